namespace Incubation.Simulation.Embryos;

/// <summary>What the embryos of one species are like. Figures: invented, except where a source stands beside them.</summary>
public sealed record EmbryoNature
{
    /// <summary>Rate of development.</summary>
    public required RateCurve Curve { get; init; }

    /// <summary>Standard deviation of the pace of single embryos, as a share of the pace. 0.028 of 60 days is 1.7 days, as in
    /// Shine, Madsen, Elphick and Harlow 1997, Ecology 78:1713, Table 1 (68.0 d, SD 1.7).</summary>
    public double PaceSpread { get; init; } = 0.028;

    /// <summary>Typical hours from pip to leaving the egg. Burger 1991, Table 2, has 15 to 63 h for pine snakes; keepers of pythons say days.</summary>
    public double EmergenceHours { get; init; } = 28;

    /// <summary>Spread of that: standard deviation of its logarithm.</summary>
    public double EmergenceSpread { get; init; } = 0.45;

    /// <summary>Mean mass of a fresh egg, g (common practice, no source).</summary>
    public double EggGrams { get; init; } = 88;

    /// <summary>Standard deviation of egg mass within a clutch, g.</summary>
    public double EggGramsSpread { get; init; } = 5;

    /// <summary>Share of eggs that were never fertile.</summary>
    public double SlugShare { get; init; } = 0.06;

    /// <summary>What kills.</summary>
    public EmbryoHazards Hazards { get; init; } = new();

    /// <summary>How eggs take and lose water.</summary>
    public EggWater Water { get; init; } = new();

    /// <summary>How they glow.</summary>
    public GlowNature Glow { get; init; } = new();
}

/// <summary>
/// What kills embryos. Heat and cold work by dose, and each embryo bears a dose of its own ("dose counts": Idrisova and Khairutdinov on
/// grass snakes; no lethal-dose table of python eggs was found, so the figures are invented).
/// </summary>
public sealed record EmbryoHazards
{
    /// <summary>Heat counts above this, °C.</summary>
    public double HeatFrom { get; init; } = 34;

    /// <summary>Dose of heat that half of the embryos bear late in development, °C·h above <see cref="HeatFrom"/>.</summary>
    public double HeatTolerance { get; init; } = 30;

    /// <summary>How many times heavier heat weighs on a fresh egg; falls evenly to 1 at <see cref="EarlyUntil"/>. One keeper's experience of
    /// a hot night is that eggs in their first days suffer most; no study was found for snakes. 1: all ages alike.</summary>
    public double EarlyHeatFactor { get; init; } = 3;

    /// <summary>Stage from which an embryo is no longer early.</summary>
    public double EarlyUntil { get; init; } = 0.5;

    /// <summary>Kills at once, °C: a brief 42 °C killed all exposed Sceloporus embryos (published; the paper was read as an abstract).</summary>
    public double LethalAt { get; init; } = 42;

    /// <summary>Cold counts below this, °C.</summary>
    public double ColdBelow { get; init; } = 24;

    /// <summary>Dose of cold that half of them bear, °C·h below <see cref="ColdBelow"/>.</summary>
    public double ColdTolerance { get; init; } = 150;

    /// <summary>Spread of what single embryos bear: standard deviation of its logarithm.</summary>
    public double ToleranceSpread { get; init; } = 0.35;

    /// <summary>Share of the mass of the fresh egg that half of them can lose.</summary>
    public double DryingTolerance { get; init; } = 0.24;

    /// <summary>Share of the mass of the fresh egg that half of them can take up before the shell gives way.</summary>
    public double WettingTolerance { get; init; } = 0.3;

    /// <summary>Share of fertile eggs that die of nothing anybody finds; half of them fully formed.</summary>
    public double UnexplainedShare { get; init; } = 0.05;
}

/// <summary>
/// Water of an egg: it gains above a humidity of balance and loses below, in proportion. Python eggs are very sensitive between 75 and
/// 100 %RH (Lourdais, Hoffman and DeNardo 2007, J. Comp. Physiol. B 177:569–577); the figures are invented.
/// </summary>
public sealed record EggWater
{
    /// <summary>Humidity at the shell at which it keeps its mass, %RH.</summary>
    public double BalanceHumidity { get; init; } = 94;

    /// <summary>Share of the fresh mass gained or lost a day for each %RH above or below balance.</summary>
    public double SharePerDay { get; init; } = 0.0006;

    /// <summary>Share of the fresh mass lost a day from <see cref="LateFrom"/> on, whatever the humidity.</summary>
    public double LateLossPerDay { get; init; } = 0.003;

    /// <summary>Stage from which it loses mass by itself.</summary>
    public double LateFrom { get; init; } = 0.8;
}

/// <summary>The natures that the demo uses. Durations lie near what keepers see; the curves are the simulation's own.</summary>
public static class EmbryoNatures
{
    /// <summary>A ball python. Curve: invented, about 59 days at 31.5 °C (common practice, no source).</summary>
    public static EmbryoNature BallPython { get; } = new() { Curve = new RateCurve(15.5, 39.5, 31.5, 59) };

    /// <summary>A Burmese python. Curve: invented, about 60 days at 31.5 °C (common practice, no source).</summary>
    public static EmbryoNature BurmesePython { get; } = new()
    {
        Curve = new RateCurve(15, 39, 31.5, 60),
        EggGrams = 210,
        EggGramsSpread = 12,
        EmergenceHours = 36,
        PaceSpread = 0.035,
    };

    /// <summary>
    /// A king ratsnake. Curve: own figures, shaped so that the durations of Ji and Du 2001 (Comp. Biochem. Physiol. A 129:461, Table 1)
    /// come out within two days.
    /// </summary>
    public static EmbryoNature KingRatsnake { get; } = new()
    {
        Curve = new RateCurve(16, 37.5, 30, 44.4),
        EggGrams = 34,
        EggGramsSpread = 3,
        EmergenceHours = 20,
        Hazards = new() { HeatFrom = 32.5, ColdBelow = 20 },
        Water = new() { BalanceHumidity = 88, SharePerDay = 0.0009 },
    };
}
