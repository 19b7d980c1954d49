using Incubation.Simulation.Air;

namespace Incubation.Simulation.Cabinets;

/// <summary>
/// Vapour in a cabinet: evaporation from the wet substrate and from mist, against the changes of air. Exact over a step with steady
/// inputs; what is evaporated is taken from the water, so a cabinet that nobody waters dries out.
/// </summary>
internal sealed class Moisture
{
    private readonly MoistureSpec _spec;
    private readonly double _hours;
    private double _rate = -1, _keep;

    public Moisture(MoistureSpec spec, double stepSeconds, double celsius)
    {
        _spec = spec;
        _hours = stepSeconds / 3600;
        Water = spec.WaterGrams;
        Pressure = 0.85 * MoistAir.SaturationPressure(celsius);
    }

    /// <summary>Vapour pressure, hPa.</summary>
    public double Pressure { get; private set; }

    /// <summary>Water in substrate and trays, g.</summary>
    public double Water { get; private set; }

    /// <summary>Mist on surfaces, g.</summary>
    public double Mist { get; private set; }

    public void AddMist(double grams) => Mist += grams;

    public void AddWater(double grams) => Water += grams;

    public void Step(double air, double mass, double roomPressure, bool doorOpen)
    {
        var wet = _spec.EvaporationPerHour * Math.Clamp(Water / _spec.DryBelowGrams, 0, 1);
        var mist = Mist > 0 ? _spec.MistPerHour : 0;
        var change = _spec.LeakagePerHour + (doorOpen ? _spec.DoorPerHour : 0);
        var rate = wet + mist + change;
        if (rate != _rate)
        {
            _rate = rate;
            _keep = Math.Exp(-rate * _hours);
        }
        var overMass = MoistAir.SaturationPressure(mass);
        var overAir = MoistAir.SaturationPressure(air);
        var end = rate > 0 ? ((wet * overMass) + (mist * overAir) + (change * roomPressure)) / rate : Pressure;
        var before = Pressure;
        Pressure = end + ((before - end) * _keep);
        var mean = (before + Pressure) / 2;
        var gramsPerPressure = MoistAir.GramsPerCubicMetre(1, air) * _spec.CubicMetres * _hours;
        Water = Math.Max(0, Water - (wet * Math.Max(0, overMass - mean) * gramsPerPressure));
        Mist = Math.Max(0, Mist - (mist * Math.Max(0, overAir - mean) * gramsPerPressure));
        if (Pressure > overAir)
        {
            // What the air can't hold runs down the walls into the substrate.
            Water += (Pressure - overAir) * MoistAir.GramsPerCubicMetre(1, air) * _spec.CubicMetres;
            Pressure = overAir;
        }
    }
}
