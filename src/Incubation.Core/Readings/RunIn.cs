using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>What came of trying out an incubator.</summary>
public enum RunInVerdict
{
    /// <summary>Not enough of it is known yet.</summary>
    TooEarly,

    /// <summary>Steady and even enough for eggs.</summary>
    Ready,

    /// <summary>Something is to be put right first.</summary>
    NotReady,
}

/// <summary>One probe's readings of one quantity over a run-in.</summary>
/// <param name="Series">Whose and of what.</param>
/// <param name="Name">What people call the probe.</param>
/// <param name="Where">Where it is, in the keeper's words.</param>
/// <param name="Buckets">Buckets of <see cref="RunInRules.Bucket"/>; those without readings are left out.</param>
public sealed record RunInSeries(SeriesKey Series, string Name, string Where, ReadingBuckets Buckets);

/// <summary>Limits that hold for a quantity, in its unit, or null for none.</summary>
/// <param name="Low">The lower warning limit.</param>
/// <param name="High">The upper warning limit.</param>
public readonly record struct RunInLimits(double? Low, double? High);

/// <summary>How steady one probe was.</summary>
/// <param name="Series">Whose and of what.</param>
/// <param name="Where">Where it is.</param>
/// <param name="Mean">Time-weighted mean.</param>
/// <param name="Deviation">Standard deviation of the five-minute means around it.</param>
/// <param name="Least">Least value.</param>
/// <param name="Most">Greatest value.</param>
/// <param name="InBandShare">Share of the known time in which the mean lay within the limits, 0 to 1; null without limits.</param>
/// <param name="Cycle">Usual swing within an hour, least to greatest; half an hour is enough for a thermostat's cycle.</param>
/// <param name="KnownShare">Share of the time of which anything is known, 0 to 1.</param>
public sealed record RunInSteadiness(
    SeriesKey Series, string Where, double Mean, double Deviation, double Least, double Most, double? InBandShare, double Cycle, double KnownShare);

/// <summary>How much warmer a place is than all places on average.</summary>
/// <param name="Probe">The probe there.</param>
/// <param name="Where">Where it is.</param>
/// <param name="Difference">Time-weighted mean difference, °C.</param>
/// <param name="Doubt">95 % doubt of it, °C: from its wandering over six-hour stretches, and the probes' own accuracy.</param>
/// <param name="Words">The same in words.</param>
public sealed record RunInSpot(string Probe, string Where, double Difference, double Doubt, string Words);

/// <summary>The judgement.</summary>
/// <param name="Verdict">The verdict.</param>
/// <param name="Words">In one sentence.</param>
/// <param name="Hours">Hours of it that have passed, at most <see cref="RunInRules.Hours"/>.</param>
/// <param name="Steadiness">Each probe and quantity.</param>
/// <param name="Spots">Hot and cold spots, the warmest first; empty with one probe.</param>
/// <param name="Findings">Reasons and what else was seen.</param>
public sealed record RunInJudgement(
    RunInVerdict Verdict, string Words, double Hours, IReadOnlyList<RunInSteadiness> Steadiness, IReadOnlyList<RunInSpot> Spots,
    IReadOnlyList<string> Findings);

/// <summary>The figures of a run-in. Common practice, no source, except where said.</summary>
public static class RunInRules
{
    /// <summary>Length, hours: two days and nights, so that the room's own day is in it twice.</summary>
    public const int Hours = 48;

    /// <summary>Width of the buckets it is judged by: shorter than any door's dip, longer than most intervals.</summary>
    public static Duration Bucket { get; } = Duration.FromMinutes(5);

    /// <summary>Hours at the start that count for no verdict: warming up.</summary>
    public const int WarmUpHours = 6;

    /// <summary>Share of the time in band that eggs need, of temperature.</summary>
    public const double TemperatureInBand = 0.97;

    /// <summary>…and of humidity, which a keeper waters by hand.</summary>
    public const double HumidityInBand = 0.85;

    /// <summary>Deviation of five-minute means that is steady, °C.</summary>
    public const double Steady = 0.4;

    /// <summary>Difference between the warmest and the coldest place that a clutch stands, °C.</summary>
    public const double Even = 1.0;

    /// <summary>Share of the time that must be known.</summary>
    public const double Known = 0.9;

    /// <summary>A fall of the air below its usual that is a door or a power cut, °C.</summary>
    public const double Dip = 1.0;

    /// <summary>Time in which it should be back to within 0.3 °C.</summary>
    public static Duration Recovery { get; } = Duration.FromMinutes(30);

    /// <summary>What two probes may differ by in the same bath without any fault, °C: half the ±0.5 °C of a DS18B20 (Maxim data sheet).</summary>
    public const double ProbeAccuracy = 0.25;
}
