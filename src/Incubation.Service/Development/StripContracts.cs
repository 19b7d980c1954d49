using Incubation.Service.Facility;
using NodaTime;

namespace Incubation.Service.Development;

/// <summary>One clutch from laying to hatch on one line: columns of equal length, a bucket without readings is left out.</summary>
internal sealed record StripView(
    Instant From, Instant To, Instant Now, long BucketMs, IReadOnlyList<long> StartMs, IReadOnlyList<double> Min, IReadOnlyList<double> Mean,
    IReadOnlyList<double> Max, IReadOnlyList<StripGap> Gaps, BandView? Band, IReadOnlyList<StripBand> Bands,
    IReadOnlyList<StripExcursion> Excursions, IReadOnlyList<StripCandling> Candlings, IReadOnlyList<double[]> Stage, StripPip? Pip,
    IReadOnlyList<StripAlarm> Alarms, IReadOnlyList<StripProbe> Probes);

internal sealed record StripGap(Instant From, Instant To);

/// <summary>Warning limits as they held.</summary>
internal sealed record StripBand(Instant From, Instant To, double? Low, double? High);

/// <summary>A stretch out of band: "above" or "below", with the stage at its start, 0 to 1.</summary>
internal sealed record StripExcursion(
    Instant From, Instant To, double Peak, double DegreeHours, string Side, double? Stage, string Words);

/// <summary>One round of candling: looks less than an hour apart.</summary>
internal sealed record StripCandling(Instant At, int Eggs, IReadOnlyList<StripTint> Tints);

/// <summary>So many eggs of one tint; the word stands beside the colour.</summary>
internal sealed record StripTint(string? Colour, string Word, int N);

/// <summary>When it pips; the density as pairs of Unix milliseconds and weight per day.</summary>
internal sealed record StripPip(Instant? P10, Instant? P50, Instant? P90, IReadOnlyList<double[]> Density);

internal sealed record StripAlarm(Guid Occurrence, Instant At, Instant? Until, string Severity, string Words);

/// <summary>Which probe spoke when, "in its tub" or "in the air of its incubator".</summary>
internal sealed record StripProbe(string Probe, string Where, string Near, Instant From, Instant To);
