namespace Incubation.Core.Development;

/// <summary>What a profile rests on.</summary>
public enum Evidence
{
    /// <summary>Measured and published; the source says where.</summary>
    Published,

    /// <summary>What the trade believes; nobody has published it.</summary>
    CommonPractice,
}

/// <summary>
/// How long a species takes, as a duration at one anchor temperature and a developmental zero, each with its uncertainty. At the
/// anchor the zero hardly matters; away from it the window widens.
/// </summary>
/// <param name="Species">Key of the species.</param>
/// <param name="Zero">Developmental zero T0, °C.</param>
/// <param name="ZeroSd">Standard deviation of T0 at a fixed duration at the anchor, °C, ≥ 0.</param>
/// <param name="AnchorCelsius">Anchor temperature, °C, at least 5 °C above T0.</param>
/// <param name="AnchorDays">Days from laying to pip at the anchor, d.</param>
/// <param name="AnchorDaysSd">Standard deviation of that between clutches, d, ≥ 0.</param>
/// <param name="WithinClutchSdDays">Standard deviation of the pip of single eggs within a clutch, d, more than 0.</param>
/// <param name="CutOff">Temperature above which it goes no faster, °C, or null.</param>
/// <param name="Evidence">What this rests on.</param>
/// <param name="Source">Author, year, table; or what is believed.</param>
public sealed record DevelopmentProfile(
    string Species, double Zero, double ZeroSd, double AnchorCelsius, double AnchorDays, double AnchorDaysSd,
    double WithinClutchSdDays, double? CutOff, Evidence Evidence, string Source)
{
    /// <summary>Thermal constant K that goes with this zero, °C·d.</summary>
    public double Constant => AnchorDays * (AnchorCelsius - Zero);

    /// <summary>The middle of what is believed, as a rate.</summary>
    public LinearRate Rate => new(Zero, Constant, CutOff);

    /// <summary>A profile of a published fit: its anchor is the mean of the temperatures fitted, where zero and duration do not hang together.</summary>
    /// <param name="species">Key of the species.</param>
    /// <param name="fit">The fit, of three temperatures or more.</param>
    /// <param name="betweenClutchesSdDays">Standard deviation between clutches that the means hide, d.</param>
    /// <param name="withinClutchSdDays">Standard deviation within a clutch, d.</param>
    /// <param name="cutOff">Temperature above which it goes no faster, °C, or null.</param>
    /// <param name="source">Author, year, table.</param>
    public static DevelopmentProfile FromFit(
        string species, ZeroFit fit, double betweenClutchesSdDays, double withinClutchSdDays, double? cutOff, string source)
    {
        ArgumentNullException.ThrowIfNull(fit);
        double days = 1 / fit.MeanRate;
        double meanError = fit.MeanRateError * days * days;
        // Error of T0 = mean T − mean rate·K that comes from the slope alone; that of the mean is in the anchor's days.
        double zeroSd = fit.MeanRate * fit.Constant * fit.Constant * fit.SlopeError;
        return new DevelopmentProfile(
            species, fit.Zero, zeroSd, fit.MeanCelsius, days,
            Math.Sqrt((meanError * meanError) + (betweenClutchesSdDays * betweenClutchesSdDays)),
            withinClutchSdDays, cutOff, Evidence.Published, source);
    }
}

/// <summary>The profiles known so far, by species.</summary>
public static class DevelopmentProfiles
{
    private const string PythonWords =
        "No constant-temperature table of this species was found: developmental zero 17 ± 3 °C is a prior, and the constant is "
        + "anchored on the trade's usual ";

    /// <summary>
    /// King ratsnake at constant temperatures: Ji &amp; Du 2001, Comp. Biochem. Physiol. A 129:461, Table 1, eggs at −220 kPa.
    /// </summary>
    public static IReadOnlyList<ConstantDuration> KingRatsnake { get; } = [new(24, 74.3), new(26, 58.0), new(30, 44.4), new(32, 42.5)];

    /// <summary>All profiles.</summary>
    public static IReadOnlyList<DevelopmentProfile> All { get; } =
    [
        new("python-regius", 17, 3, 31.5, 60, 3, 1.7, null, Evidence.CommonPractice,
            PythonWords + "60 days at 31.5 °C (common practice, no source)."),
        new("python-bivittatus", 17, 3, 31.5, 61, 4, 2.8, null, Evidence.CommonPractice,
            PythonWords + "61 days at 31.5 °C (common practice, no source)."),
        Ratsnake(),
    ];

    /// <summary>The profile of a species, or null when none is known.</summary>
    public static DevelopmentProfile? Find(string species) => All.FirstOrDefault(profile => profile.Species == species);

    private static DevelopmentProfile Ratsnake()
    {
        // 32 °C lies on the plateau: it was left out of the line and sets the cut-off, the warmth at which the line meets its 42.5 d.
        ZeroFit fit = ZeroFit.Of([.. KingRatsnake.Take(3)]);
        return DevelopmentProfile.FromFit("elaphe-carinata", fit, 2, 1.5, fit.Zero + (fit.Constant / KingRatsnake[3].Days),
            "Ji & Du 2001, Comp. Biochem. Physiol. A 129:461, Table 1 (24 to 32 °C).");
    }
}
