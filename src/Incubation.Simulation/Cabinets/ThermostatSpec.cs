namespace Incubation.Simulation.Cabinets;

/// <summary>How a thermostat decides.</summary>
public enum ThermostatKind
{
    /// <summary>Full power below, none above, with a gap between.</summary>
    OnOff,

    /// <summary>Power falls evenly across a band; what is asked for and what comes differ a little with the room, as they do.</summary>
    Proportional,
}

/// <summary>A thermostat with its own sensor. Figures: common practice, no source.</summary>
public sealed record ThermostatSpec
{
    /// <summary>How it decides.</summary>
    public ThermostatKind Kind { get; init; } = ThermostatKind.Proportional;

    /// <summary>What it is set to, °C.</summary>
    public double Setpoint { get; init; } = 31.5;

    /// <summary>On/off: the gap between switching on and off, °C, even around the setpoint. Proportional: from full to no power.</summary>
    public double Width { get; init; } = 1;

    /// <summary>Proportional: share of power at the setpoint, 0 to 1.</summary>
    public double DutyAtSetpoint { get; init; } = 0.35;

    /// <summary>Response time of its sensor (63 %), seconds.</summary>
    public double SensorSeconds { get; init; } = 30;

    /// <summary>What its sensor shows too much, °C.</summary>
    public double SensorOffset { get; init; }
}
