namespace Incubation.Simulation.Cabinets;

/// <summary>
/// One incubator as two thermal masses: the air with the inner shell, and the tubs (substrate, water, eggs). Figures: common
/// practice, no source; heat capacities from 4.2 kJ/(kg·K) of water and about 1 kJ/(kg·K) of air, plastic and vermiculite.
/// </summary>
public sealed record CabinetSpec
{
    /// <summary>Its key in topics.</summary>
    public required string Key { get; init; }

    /// <summary>Heat capacity of air, shelves and inner shell, J/K.</summary>
    public double AirHeatCapacity { get; init; } = 9_000;

    /// <summary>Heat capacity of tubs, substrate, water and eggs, J/K.</summary>
    public double MassHeatCapacity { get; init; } = 24_000;

    /// <summary>Heat that passes between air and tubs with the fan running, W/K.</summary>
    public double AirToMass { get; init; } = 6;

    /// <summary>Share of <see cref="AirToMass"/> that is left when the fan stands still.</summary>
    public double StillAirShare { get; init; } = 0.45;

    /// <summary>Heat lost through the walls, W/K.</summary>
    public double WallLoss { get; init; } = 2.5;

    /// <summary>Heat lost besides through an open door, W/K.</summary>
    public double DoorLoss { get; init; } = 25;

    /// <summary>Power of the heater, W.</summary>
    public double HeaterWatts { get; init; } = 70;

    /// <summary>Warmth of the eggs themselves, W; small, and set by whoever simulates embryos.</summary>
    public double EggWatts { get; init; }

    /// <summary>A cut-out of its own that opens the heater's circuit at this air temperature, °C, or null for none.</summary>
    public double? CutOutAt { get; init; }

    /// <summary>How far the air must cool before the cut-out closes again, °C.</summary>
    public double CutOutGap { get; init; } = 2;

    /// <summary>Difference of the top from the middle with the fan on, °C per K above the room; the bottom has the opposite.</summary>
    public double Layering { get; init; } = 0.01;

    /// <summary>How many times stronger the layering is with the fan standing still.</summary>
    public double StillAirLayering { get; init; } = 5;

    /// <summary>Its thermostat.</summary>
    public ThermostatSpec Thermostat { get; init; } = new();

    /// <summary>Its water.</summary>
    public MoistureSpec Moisture { get; init; } = new();

    /// <summary>Temperature of air and tubs at the start, °C, or null for the setpoint.</summary>
    public double? StartsAt { get; init; }
}

/// <summary>The water of a cabinet. Figures: common practice, no source.</summary>
public sealed record MoistureSpec
{
    /// <summary>Volume of air, m³.</summary>
    public double CubicMetres { get; init; } = 0.12;

    /// <summary>Water in substrate and trays that can evaporate, g.</summary>
    public double WaterGrams { get; init; } = 1_200;

    /// <summary>Below this much water evaporation falls evenly to none, g.</summary>
    public double DryBelowGrams { get; init; } = 200;

    /// <summary>Approach of the air to saturation over the wet substrate, per hour.</summary>
    public double EvaporationPerHour { get; init; } = 5;

    /// <summary>Changes of air through leaks and vents, per hour.</summary>
    public double LeakagePerHour { get; init; } = 0.8;

    /// <summary>Changes of air through an open door, per hour.</summary>
    public double DoorPerHour { get; init; } = 40;

    /// <summary>Approach to saturation over freshly misted surfaces, per hour, while any of that water is left.</summary>
    public double MistPerHour { get; init; } = 12;
}
