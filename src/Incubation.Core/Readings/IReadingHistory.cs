using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>
/// Readings as they truly were: what the store holds as measured, corrected by the calibrations that are known now. Everything that shows or
/// judges the past reads here, not in <see cref="IReadingStore"/>.
/// </summary>
public interface IReadingHistory
{
    /// <summary>Corrected readings of one series with <paramref name="from"/> ≤ at &lt; <paramref name="to"/>, in time order.</summary>
    IReadOnlyList<Reading> Read(SeriesKey series, Instant from, Instant to);

    /// <summary>Corrected good readings in buckets; as <see cref="IReadingStore.Buckets"/>.</summary>
    ReadingBuckets Buckets(SeriesKey series, Instant from, Instant to, int buckets);

    /// <summary>The newest reading of every series, corrected.</summary>
    IReadOnlyList<Reading> Latest();
}
