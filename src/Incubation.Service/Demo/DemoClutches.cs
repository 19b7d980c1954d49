using Incubation.Simulation.Embryos;

namespace Incubation.Service.Demo;

/// <summary>One clutch of the demo as it is planned; what becomes of it is up to its embryos.</summary>
internal sealed record DemoClutch(string Label, string Season, string Species, string Dam, string? Sire, int DaysAgo, int Eggs, string Tub, string Cabinet)
{
    /// <summary>Its key in addresses.</summary>
    public string Key => Label.ToLowerInvariant();

    /// <summary>Who truly sired it, where the record doesn't know.</summary>
    public string? TrueSire { get; init; }

    /// <summary>Cabinet that it lay in before, until <see cref="DemoTubs.MovedAt"/>.</summary>
    public string? MovedFrom { get; init; }

    /// <summary>Day on which it was entered; before it nothing is on record.</summary>
    public int EnteredOnDay { get; init; }

    public int SlackDays { get; init; }
    public double? FemaleCelsius { get; init; }
    public double? AssumedCelsius { get; init; }
    public string? SecondPerson { get; init; }
    public string? Note { get; init; }

    /// <summary>How much of the cabinet's dryness gets through the tub's lid, 0 to 1.</summary>
    public double Vented { get; init; } = 0.4;

    public EmbryoNature Nature => Species switch
    {
        "elaphe-carinata" => EmbryoNatures.KingRatsnake,
        "python-bivittatus" => EmbryoNatures.BurmesePython,
        _ => EmbryoNatures.BallPython,
    };
}

/// <summary>The demo's clutches: four of two finished seasons, ten that live. All animals are invented.</summary>
internal static class DemoClutches
{
    /// <summary>Day on which <see cref="Moved"/> was moved.</summary>
    public const int MovedOnDay = 5;

    private const string Ball = "python-regius", Burmese = "python-bivittatus", Ratsnake = "elaphe-carinata";

    /// <summary>It lay in Linden on the night its heater stuck.</summary>
    public static DemoClutch Bad { get; } = new("C-03", "second", Ball, "Quill", "Mungo", 404, 9, "tub-5", DemoFacility.Linden)
    {
        Note = "A poor hatch. Compare with C-04 of the same weeks.",
    };

    /// <summary>Laid in the same week as the bad one, in another cabinet.</summary>
    public static DemoClutch Good { get; } = new("C-04", "second", Ball, "Bramwen", "Corvo", 401, 8, "tub-2", DemoFacility.Hazel);

    /// <summary>Pips within days.</summary>
    public static DemoClutch AboutToPip { get; } = new("C-06", "living", Ball, "Bramwen", "Pike", 54, 8, "tub-2", DemoFacility.Hazel);

    /// <summary>Moved from Linden to Rowan.</summary>
    public static DemoClutch Moved { get; } = new("C-08", "living", Burmese, "Greta", "Oswin", 33, 26, DemoTubs.Moved, DemoFacility.Rowan)
    {
        MovedFrom = DemoFacility.Linden,
        SecondPerson = "Ines",
        FemaleCelsius = 31.2,
    };

    /// <summary>Found in a neighbour's vivarium on its day 30.</summary>
    public static DemoClutch Late { get; } = new("C-10", "living", Ball, "Plum", null, 38, 6, "tub-6", DemoFacility.Linden)
    {
        TrueSire = "Corvo",
        EnteredOnDay = 30,
        SlackDays = 4,
        AssumedCelsius = 31,
        Note = "Taken over from a neighbour who was away; lay date by his calendar, give or take.",
    };

    /// <summary>Its tub stands in no incubator by the record.</summary>
    public static DemoClutch NotWatched { get; } = new("C-14", "living", Ball, "Wilma", "Pike", 1, 7, DemoTubs.NotPlaced, DemoFacility.Linden)
    {
        Note = "Pulled yesterday morning; which incubator is still to be decided.",
    };

    public static IReadOnlyList<DemoClutch> All { get; } =
    [
        new("C-01", "first", Ball, "Ottilie", "Corvo", 769, 8, "tub-1", DemoFacility.Hazel),
        new("C-02", "first", Ball, "Saffi", "Mungo", 765, 7, "tub-3", DemoFacility.Rowan),
        Bad,
        Good,
        new("C-05", "living", Ball, "Ottilie", "Mungo", 61, 7, "tub-1", DemoFacility.Hazel) { FemaleCelsius = 31.6 },
        AboutToPip,
        new("C-07", "living", Ball, "Nettle", "Alder", 41, 8, "tub-3", DemoFacility.Rowan),
        Moved,
        new("C-09", "living", Ball, "Quill", "Corvo", 22, 7, "tub-5", DemoFacility.Linden),
        Late,
        new("C-11", "living", Ball, "Saffi", "Alder", 11, 6, "tub-7", DemoFacility.Juniper),
        new("C-12", "living", Ratsnake, "Tansy", "Rook", 19, 12, "tub-8", DemoFacility.Sorrel),
        new("C-13", "living", Ratsnake, "Fern", "Rook", 6, 10, "tub-9", DemoFacility.Sorrel) { Vented = 0.6 },
        NotWatched,
    ];
}
