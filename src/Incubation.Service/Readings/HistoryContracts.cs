using Incubation.Service.Facility;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>What was measured in an incubator, in buckets of equal width; a bucket without readings is left out.</summary>
/// <param name="Quantity">What was measured.</param>
/// <param name="Unit">Unit of the values.</param>
/// <param name="From">Start of the time asked for.</param>
/// <param name="To">Its end.</param>
/// <param name="BucketMs">Width of a bucket, milliseconds.</param>
/// <param name="Series">One for each probe and place.</param>
/// <param name="Band">The band as it is now.</param>
/// <param name="Incomplete">Why a part of it is missing from this answer, in words; null when it is whole.</param>
internal sealed record HistoryView(
    string Quantity, string Unit, Instant From, Instant To, long BucketMs, IReadOnlyList<HistorySeries> Series, BandView? Band, string? Incomplete);

/// <summary>One probe while it was in one place; columns of equal length in time order.</summary>
/// <param name="Probe">Key of the probe.</param>
/// <param name="Where">Where it lay.</param>
/// <param name="StartMs">Start of each bucket, Unix milliseconds.</param>
/// <param name="Min">Least value.</param>
/// <param name="Mean">Mean value.</param>
/// <param name="Max">Greatest value.</param>
/// <param name="Count">Good readings.</param>
/// <param name="Gaps">Stretches in which the probe should have been heard and was not: from and to, Unix milliseconds.</param>
internal sealed record HistorySeries(
    string Probe, string Where, IReadOnlyList<long> StartMs, IReadOnlyList<double> Min, IReadOnlyList<double> Mean,
    IReadOnlyList<double> Max, IReadOnlyList<int> Count, IReadOnlyList<IReadOnlyList<long>> Gaps);

/// <summary>What was found, and why it is not all, if it isn't.</summary>
internal sealed record HistoryFound(IReadOnlyList<HistorySeries> Series, string? Incomplete);

/// <summary>What to look up: already checked.</summary>
internal sealed record HistoryRange(SeriesRange Range, int Buckets)
{
    /// <summary>Width of a bucket, milliseconds.</summary>
    public long BucketMs { get; } = Math.Max(1, (Range.ToMs - Range.FromMs + Buckets - 1) / Buckets);
}

/// <summary>A half-open span of time, Unix milliseconds.</summary>
internal readonly record struct SeriesRange(long FromMs, long ToMs);
