using NodaTime;

namespace Incubation.Service.Probes;

/// <summary>What a keeper calls a probe; null or empty takes the name away.</summary>
internal sealed record ProbeRequest(string? Name);

/// <summary>Where a probe is put, in which tub if in any; from now when no time is given.</summary>
internal sealed record PlacementRequest(string? Incubator, string? Where, string? From, string? Tub = null);

/// <summary>A probe, where it is, the newest of each of its series, and what is wrong with it.</summary>
internal sealed record ProbeView(
    string Key, string? Name, string? Incubator, string? IncubatorName, string? Where, string? Tub, string? TubName, Instant? PlacedSince,
    Instant FirstHeardAt, IReadOnlyList<SeriesView> Series, double? ClockOffSeconds, double? SkewSeconds, int SilentAfterSeconds, bool? Online,
    LocalDate? CalibrationDue, IReadOnlyList<TroubleView> Troubles);

/// <summary>The newest reading of a series, as corrected and as measured: good, faulty, silent or unknown.</summary>
internal sealed record SeriesView(
    string Quantity, string Unit, double? Value, double? Measured, Instant? At, Instant? ArrivedAt, string Quality, IReadOnlyList<string> Marks,
    bool Saturated, CorrectionView? Correction, LookedView? SinceLooked);

/// <summary>The correction that holds now: true = gain × measured + offset.</summary>
internal sealed record CorrectionView(double Gain, double Offset, Instant From, string? Method, LocalDate? NextDue);

/// <summary>Least and most of the good readings since the person who asks has last looked; at the first of equal ones.</summary>
internal sealed record LookedView(Instant Since, double Least, Instant LeastAt, double Most, Instant MostAt);

/// <summary>A trouble of the probe itself, with the points that show it: pairs of Unix ms and value.</summary>
internal sealed record TroubleView(
    string Kind, string Quantity, Instant Since, string Words, IReadOnlyList<double[]> Evidence, string? Against);

/// <summary>All probes ever heard.</summary>
internal sealed record ProbeLists(IReadOnlyList<ProbeView> Placed, IReadOnlyList<ProbeView> NotPlaced);

/// <summary>What is known of the calibrations behind the corrections; the calibrations on record tell it.</summary>
internal interface ICalibrationNotes
{
    /// <summary>How the correction that holds was found and when it is to be done again, or null where none is on record.</summary>
    (string Method, LocalDate? NextDue)? Of(Core.Readings.SeriesKey series);
}
