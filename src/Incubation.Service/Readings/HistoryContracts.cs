using Incubation.Service.Facility;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>What was measured in an incubator, in buckets of equal width; a bucket without readings is left out.</summary>
internal sealed record HistoryView(
    string Quantity, string Unit, Instant From, Instant To, long BucketMs, IReadOnlyList<HistorySeries> Series, BandView? Band);

/// <summary>One probe while it was in one place; columns of equal length in time order.</summary>
internal sealed record HistorySeries(
    string Probe, string Where, IReadOnlyList<long> StartMs, IReadOnlyList<double> Min, IReadOnlyList<double> Mean,
    IReadOnlyList<double> Max, IReadOnlyList<int> Count);

/// <summary>What to look up: already checked.</summary>
internal sealed record HistoryRange(SeriesRange Range, int Buckets)
{
    /// <summary>Width of a bucket, milliseconds.</summary>
    public long BucketMs { get; } = Math.Max(1, (Range.ToMs - Range.FromMs + Buckets - 1) / Buckets);
}

/// <summary>A half-open span of time, Unix milliseconds.</summary>
internal readonly record struct SeriesRange(long FromMs, long ToMs);
