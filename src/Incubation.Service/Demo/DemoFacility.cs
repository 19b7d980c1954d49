using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Simulation.Cabinets;
using Incubation.Simulation.Probes;
using NodaTime;
using ProbePlace = Incubation.Simulation.Probes.ProbePlace;

namespace Incubation.Service.Demo;

/// <summary>
/// The demo's facility, all of it invented: five incubators as a small breeder has them, each with a nature of its own.
/// </summary>
internal static class DemoFacility
{
    public const string Hazel = "hazel", Rowan = "rowan", Juniper = "juniper", Linden = "linden", Sorrel = "sorrel";

    /// <summary>The probe that nobody has placed yet.</summary>
    public const string NotYetPlaced = "bench-7";

    /// <summary>The probe with a loose plug, which now and then sends something that is no number.</summary>
    public const string LooseProbe = "sorrel-lid";

    public const string Keeper = "Maren", SecondKeeper = "Tobiasz";

    public static IReadOnlyList<(string Key, string Name)> Incubators { get; } =
        [(Hazel, "Hazel"), (Rowan, "Rowan"), (Juniper, "Juniper"), (Linden, "Linden"), (Sorrel, "Sorrel")];

    public static IReadOnlyList<CabinetSpec> Cabinets { get; } =
    [
        // A tall cabinet, well loaded: slow and calm.
        new() { Key = Hazel, AirHeatCapacity = 7_000, MassHeatCapacity = 21_000, AirToMass = 8 },

        // Two shelves; the upper is a little warmer.
        new() { Key = Rowan, MassHeatCapacity = 34_000, Layering = 0.012, StillAirLayering = 4, Thermostat = new() { SensorOffset = -0.1, DutyAtSetpoint = 0.33 } },

        // A small polystyrene box with a mat that is too strong for it: quick to run away, but for its cut-out.
        new()
        {
            Key = Juniper,
            AirHeatCapacity = 2_500,
            MassHeatCapacity = 12_000,
            AirToMass = 3,
            WallLoss = 1,
            DoorLoss = 18,
            HeaterWatts = 60,
            CutOutAt = 36,
            Thermostat = new() { Setpoint = 31.4, Width = 1.4, DutyAtSetpoint = 0.15, SensorSeconds = 15 },
            Moisture = new() { CubicMetres = 0.04, WaterGrams = 700 },
        },

        // An old cabinet with an on/off thermostat: its sawtooth is its signature.
        new() { Key = Linden, Thermostat = new() { Kind = ThermostatKind.OnOff, Width = 0.3, Setpoint = 31.4, SensorSeconds = 45 } },

        // A colubrid box: cooler, drier, with vents.
        new()
        {
            Key = Sorrel,
            AirHeatCapacity = 6_000,
            MassHeatCapacity = 15_000,
            WallLoss = 1.8,
            HeaterWatts = 35,
            Thermostat = new() { Setpoint = 29, DutyAtSetpoint = 0.33 },
            Moisture = new() { LeakagePerHour = 2 },
        },
    ];

    public static IReadOnlyList<DemoProbe> Probes { get; } =
    [
        new(new() { Key = "hazel-air", Cabinet = Hazel, Humidity = true, Step = 0.01 }, "air, middle"),
        new(new() { Key = "hazel-eggs", Cabinet = Hazel, Place = ProbePlace.BetweenEggs, ResponseSeconds = 90, Payload = PayloadStyle.Number }, "Tub 2, between eggs"),
        new(new() { Key = "rowan-upper", Cabinet = Rowan, Height = 1, Humidity = true, Step = 0.01, Offset = 0.05, Payload = PayloadStyle.JsonWithTime }, "air, upper shelf"),
        new(new() { Key = "rowan-lower", Cabinet = Rowan, Height = -1, Humidity = true, Step = 0.01, Offset = -0.05, Payload = PayloadStyle.JsonWithTime }, "air, lower shelf"),
        new(new() { Key = "juniper-air", Cabinet = Juniper, Humidity = true, Step = 0.01, ResponseSeconds = 8, Payload = PayloadStyle.JsonWithTime }, "air, under the lid"),
        new(new() { Key = "linden-air", Cabinet = Linden, Humidity = true, Step = 0.1, Noise = 0.04 }, "air, back wall"),
        new(new() { Key = "linden-eggs", Cabinet = Linden, Place = ProbePlace.BetweenEggs, ResponseSeconds = 90, Payload = PayloadStyle.Number }, "Tub 5, between eggs"),
        new(new() { Key = "sorrel-tub", Cabinet = Sorrel, Place = ProbePlace.Tub, Humidity = true, Step = 0.01, ResponseSeconds = 45 }, "Tub 8, above the substrate"),
        new(new() { Key = LooseProbe, Cabinet = Sorrel, Height = 1, Step = 0.1, Payload = PayloadStyle.Number, LostShare = 0.0005 }, "air, under the lid"),
        new(new() { Key = NotYetPlaced, Cabinet = Linden, Humidity = true, Step = 0.01, StartsSilent = true }, null),
    ];

    /// <summary>Juniper's bands are short of patience on purpose, so that the demo can show a whole alarm in a few minutes.</summary>
    public static IReadOnlyList<Band> Bands { get; } =
    [
        Warm(Hazel), Moist(Hazel), Warm(Rowan), Moist(Rowan), Warm(Linden), Moist(Linden),
        Warm(Juniper) with
        {
            WarningHigh = 32.2,
            WarningOnDelay = Duration.FromSeconds(15),
            DangerOnDelay = Duration.FromSeconds(15),
            OffDelay = Duration.FromSeconds(30),
        },
        Moist(Juniper),
        Warm(Sorrel) with { DangerLow = 27, WarningLow = 28, WarningHigh = 30, DangerHigh = 31 },
        Moist(Sorrel) with { DangerLow = 55, WarningLow = 65 },
    ];

    private static Band Warm(string incubator) => new(
        incubator, Quantity.Temperature, 29.5, 30.5, 32.5, 33.5, 0.2,
        Duration.FromSeconds(300), Duration.FromSeconds(60), Duration.FromSeconds(120), Duration.FromSeconds(600));

    private static Band Moist(string incubator) => new(
        incubator, Quantity.Humidity, 70, 80, null, null, 2,
        Duration.FromSeconds(900), Duration.FromSeconds(600), Duration.FromSeconds(300), Duration.FromSeconds(900));
}

/// <summary>A probe of the demo, and where a keeper has placed it; null when nobody has.</summary>
internal sealed record DemoProbe(ProbeSpec Spec, string? Where);
