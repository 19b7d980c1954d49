namespace Incubation.Simulation.Probes;

/// <summary>What a probe is in.</summary>
public enum ProbePlace
{
    /// <summary>The cabinet's air.</summary>
    Air,

    /// <summary>A tub, above the substrate: halfway between air and substrate.</summary>
    Tub,

    /// <summary>Between the eggs.</summary>
    BetweenEggs,

    /// <summary>Out of the cabinet: fallen behind it, or on the bench.</summary>
    Room,
}

/// <summary>How a probe writes a measurement.</summary>
public enum PayloadStyle
{
    /// <summary>A bare number.</summary>
    Number,

    /// <summary>A JSON object with value and unit; the probe has no clock.</summary>
    Json,

    /// <summary>A JSON object with value, unit and the probe's own time.</summary>
    JsonWithTime,
}

/// <summary>One probe. Figures: common practice, no source, except where said.</summary>
public sealed record ProbeSpec
{
    /// <summary>Its name in topics.</summary>
    public required string Key { get; init; }

    /// <summary>The cabinet it is in.</summary>
    public required string Cabinet { get; init; }

    /// <summary>What it is in.</summary>
    public ProbePlace Place { get; init; } = ProbePlace.Air;

    /// <summary>−1 at the bottom, 1 at the top.</summary>
    public double Height { get; init; }

    /// <summary>Whether it measures humidity too.</summary>
    public bool Humidity { get; init; }

    /// <summary>Response time (63 %), seconds.</summary>
    public double ResponseSeconds { get; init; } = 20;

    /// <summary>What it shows too much, °C.</summary>
    public double Offset { get; init; }

    /// <summary>Standard deviation of its noise, °C.</summary>
    public double Noise { get; init; } = 0.02;

    /// <summary>Step of its temperatures, °C: 0.0625 is a 12-bit digital bus sensor's (1/16 °C); 0 for none.</summary>
    public double Step { get; init; } = 0.0625;

    /// <summary>What it shows too much, %RH.</summary>
    public double HumidityOffset { get; init; }

    /// <summary>Standard deviation of its noise, %RH.</summary>
    public double HumidityNoise { get; init; } = 0.3;

    /// <summary>Step of its humidities, %RH; 0 for none.</summary>
    public double HumidityStep { get; init; } = 0.1;

    /// <summary>In a tub: how much of the way from the cabinet's vapour to saturation the lid keeps, 0 for none to 1.</summary>
    public double TubClosed { get; init; }

    /// <summary>How often it measures, ms; more than 0.</summary>
    public long IntervalMs { get; init; } = 10_000;

    /// <summary>Share of measurements that are lost, 0 to 1.</summary>
    public double LostShare { get; init; }

    /// <summary>Whether a cut of the room's power silences it.</summary>
    public bool OnMains { get; init; }

    /// <summary>How far its own clock is ahead, ms.</summary>
    public long ClockAheadMs { get; init; }

    /// <summary>How it writes.</summary>
    public PayloadStyle Payload { get; init; } = PayloadStyle.Json;

    /// <summary>Whether it starts switched off: a happening switches it on.</summary>
    public bool StartsSilent { get; init; }
}
