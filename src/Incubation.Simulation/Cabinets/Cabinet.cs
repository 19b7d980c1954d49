using Incubation.Simulation.Rooms;

namespace Incubation.Simulation.Cabinets;

/// <summary>What is wrong with a heater.</summary>
public enum HeaterFault
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>Its relay has welded: full power whatever the thermostat says.</summary>
    StuckOn,

    /// <summary>It gives no heat.</summary>
    Dead,
}

/// <summary>What a cabinet is like at an instant of the inner grid.</summary>
/// <param name="Air">Air, °C.</param>
/// <param name="Mass">Tubs, °C.</param>
/// <param name="Vapour">Vapour pressure, hPa.</param>
/// <param name="Layer">Difference of the top from the middle, °C.</param>
/// <param name="Room">Room, °C.</param>
public readonly record struct CabinetState(double Air, double Mass, double Vapour, double Layer, double Room);

/// <summary>One incubator in motion.</summary>
internal sealed class Cabinet
{
    private readonly CabinetSpec _spec;
    private readonly HeatFlow[] _flows = new HeatFlow[4];
    private readonly Thermostat _thermostat;
    private double _air, _mass;
    private bool _cutOut;

    public Cabinet(CabinetSpec spec, double stepSeconds)
    {
        _spec = spec;
        _air = _mass = spec.StartsAt ?? spec.Thermostat.Setpoint;
        _thermostat = new Thermostat(spec.Thermostat, stepSeconds, _air);
        Moisture = new Moisture(spec.Moisture, stepSeconds, _air);
        EggWatts = spec.EggWatts;
        for (var i = 0; i < 4; i++)
        {
            var coupling = spec.AirToMass * ((i & 1) != 0 ? 1 : spec.StillAirShare);
            var loss = spec.WallLoss + ((i & 2) != 0 ? spec.DoorLoss : 0);
            _flows[i] = new HeatFlow(spec.AirHeatCapacity, spec.MassHeatCapacity, coupling, loss, stepSeconds);
        }
    }

    public string Key => _spec.Key;
    public Moisture Moisture { get; }
    public HeaterFault Fault { get; set; }
    public bool Powered { get; set; } = true;
    public bool FanWorks { get; set; } = true;
    public double EggWatts { get; set; }
    public long DoorOpenUntilMs { get; set; } = long.MinValue;
    public double Setpoint { get => _thermostat.Setpoint; set => _thermostat.Setpoint = value; }

    /// <summary>State at the start of the current step.</summary>
    public CabinetState Before { get; private set; }

    /// <summary>State at its end.</summary>
    public CabinetState After { get; private set; }

    /// <summary>Mean heater power over the current step, W.</summary>
    public double Watts { get; private set; }

    public void Step(long atMs, Room room, bool roomPowered)
    {
        var powered = Powered && roomPowered;
        var fan = powered && FanWorks;
        var open = atMs < DoorOpenUntilMs;
        // The thermostat's sensor goes on without mains too; what it decides then heats nothing.
        var share = _thermostat.Decide(_air);
        _cutOut = _spec.CutOutAt is { } limit && _air > (_cutOut ? limit - _spec.CutOutGap : limit);
        Watts = !powered || _cutOut || Fault == HeaterFault.Dead ? 0 : _spec.HeaterWatts * (Fault == HeaterFault.StuckOn ? 1 : share);
        Before = After;
        _flows[(fan ? 1 : 0) + (open ? 2 : 0)].Step(ref _air, ref _mass, room.Temperature, Watts, EggWatts);
        Moisture.Step(_air, _mass, room.VapourPressure, open);
        var layer = open ? 0 : (_air - room.Temperature) * _spec.Layering * (fan ? 1 : _spec.StillAirLayering);
        After = new CabinetState(_air, _mass, Moisture.Pressure, layer, room.Temperature);
    }

    /// <summary>The state before the first step.</summary>
    public void Begin(Room room) => Before = After = new CabinetState(_air, _mass, Moisture.Pressure, 0, room.Temperature);
}
