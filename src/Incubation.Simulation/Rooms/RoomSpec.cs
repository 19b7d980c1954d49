namespace Incubation.Simulation.Rooms;

/// <summary>The room that the incubators stand in. Figures: common practice, no source.</summary>
public sealed record RoomSpec
{
    /// <summary>Mean temperature over a day, °C.</summary>
    public double Mean { get; init; } = 22.5;

    /// <summary>Half the swing between day and night, °C.</summary>
    public double DaySwing { get; init; } = 1.2;

    /// <summary>Hour of the day, UTC, at which it is warmest.</summary>
    public double WarmestHour { get; init; } = 15;

    /// <summary>Half the swing of the weather over several days, °C.</summary>
    public double Weather { get; init; } = 0.6;

    /// <summary>Vapour pressure of the room's air, hPa; 13 hPa is about 48 %RH at 22.5 °C.</summary>
    public double VapourPressure { get; init; } = 13;

    /// <summary>How far the room falls in the end without its own heating, °C.</summary>
    public double HeatingLift { get; init; } = 5;

    /// <summary>Time constant with which it falls and recovers, hours.</summary>
    public double FallHours { get; init; } = 9;
}
