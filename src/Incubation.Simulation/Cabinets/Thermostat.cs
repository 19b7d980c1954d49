namespace Incubation.Simulation.Cabinets;

/// <summary>Decides the share of the heater's power from its own sensor.</summary>
internal sealed class Thermostat(ThermostatSpec spec, double stepSeconds, double startsAt)
{
    private readonly double _take = 1 - Math.Exp(-stepSeconds / spec.SensorSeconds);
    private double _sensor = startsAt;
    private bool _on;

    public double Setpoint { get; set; } = spec.Setpoint;

    /// <summary>Share of full power, 0 to 1, for the next step.</summary>
    public double Decide(double air)
    {
        _sensor += (air - _sensor) * _take;
        var below = Setpoint - (_sensor + spec.SensorOffset);
        if (spec.Kind == ThermostatKind.Proportional)
        {
            return Math.Clamp(spec.DutyAtSetpoint + (below / spec.Width), 0, 1);
        }
        if (below > spec.Width / 2)
        {
            _on = true;
        }
        else if (below < -spec.Width / 2)
        {
            _on = false;
        }
        return _on ? 1 : 0;
    }
}
