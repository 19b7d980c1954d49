using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>What the readings of each series are corrected by.</summary>
public interface ICorrections
{
    /// <summary>The correction as it is known now; <see cref="Correction.None"/> for a series that was never calibrated.</summary>
    Correction Of(SeriesKey series);

    /// <summary>
    /// Rises with every change of a correction, after it: whoever keeps what was read compares it, or compares the object that
    /// <see cref="Of"/> gives, which stays the same for as long as a series' correction does.
    /// </summary>
    int Changes => 0;
}

/// <summary>The store's readings, corrected when they are read.</summary>
public sealed class CorrectedHistory(IReadingStore store, ICorrections corrections) : IReadingHistory
{
    /// <inheritdoc/>
    public IReadOnlyList<Reading> Read(SeriesKey series, Instant from, Instant to) =>
        Correct(store.Read(series, from, to), corrections.Of(series));

    /// <inheritdoc/>
    public ReadingBuckets Buckets(SeriesKey series, Instant from, Instant to, int buckets) =>
        store.Buckets(series, from, to, buckets, corrections.Of(series));

    /// <inheritdoc/>
    public IReadOnlyList<Reading> Latest() => [.. store.Latest().Select(reading => Correct(reading, corrections.Of(reading.Series)))];

    /// <summary>The reading as it truly was. A fault of the probe is no measurement and is left as it is.</summary>
    public static Reading Correct(in Reading reading, Correction correction) =>
        correction.IsNone || (reading.Marks & ReadingMarks.Faulty) != 0 ? reading : reading with { Value = correction.Apply(reading.At, reading.Value) };

    private static IReadOnlyList<Reading> Correct(IReadOnlyList<Reading> readings, Correction correction) =>
        correction.IsNone ? readings : [.. readings.Select(reading => Correct(reading, correction))];
}
