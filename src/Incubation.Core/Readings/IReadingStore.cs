using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>Where readings are kept. Implemented by Storage; safe to call from any thread.</summary>
public interface IReadingStore
{
    /// <summary>
    /// Hands readings to the one writer. The task completes when their commit is on disk (<c>synchronous=FULL</c>),
    /// grouped with whatever else waits. A reading whose series and time are already stored changes nothing.
    /// </summary>
    /// <exception cref="StoreUnavailableException">The commit failed: nothing of this call may be acknowledged.</exception>
    Task StoreAsync(ReadOnlyMemory<Reading> readings, CancellationToken cancellationToken);

    /// <summary>
    /// The same for the message of a sender that is answered when the task completes. Such commits may be held for company, up to about a second
    /// and never so long that the sender would wait for the answer before it sends its next.
    /// </summary>
    /// <exception cref="StoreUnavailableException">The commit failed: nothing of this call may be acknowledged.</exception>
    Task StoreAsync(ReadOnlyMemory<Reading> readings, ReadingSender? sender, CancellationToken cancellationToken) => StoreAsync(readings, cancellationToken);

    /// <summary>Readings of one series with <paramref name="from"/> ≤ at &lt; <paramref name="to"/>, as measured, in time order.</summary>
    IReadOnlyList<Reading> Read(SeriesKey series, Instant from, Instant to);

    /// <summary>
    /// Good readings of one series in buckets of equal width over [<paramref name="from"/>, <paramref name="to"/>):
    /// min, mean, max and count of each bucket that has any; empty buckets are left out, so a gap stays a gap. Values are corrected by
    /// <paramref name="correction"/>; sums that straddle a change of it are made again from finer data.
    /// </summary>
    ReadingBuckets Buckets(SeriesKey series, Instant from, Instant to, int buckets, Correction correction);

    /// <summary>The newest reading of every series.</summary>
    IReadOnlyList<Reading> Latest();
}

/// <summary>Buckets of one series as columns of equal length, in time order.</summary>
/// <param name="WidthMs">Width of a bucket, milliseconds.</param>
/// <param name="StartMs">Start of each bucket, Unix milliseconds.</param>
/// <param name="Min">Least value.</param>
/// <param name="Mean">Mean value.</param>
/// <param name="Max">Greatest value.</param>
/// <param name="Count">Good readings in it.</param>
public sealed record ReadingBuckets(
    long WidthMs, IReadOnlyList<long> StartMs, IReadOnlyList<double> Min, IReadOnlyList<double> Mean,
    IReadOnlyList<double> Max, IReadOnlyList<int> Count);

/// <summary>The store could not commit; what it was given is not safe and must not be acknowledged.</summary>
public sealed class StoreUnavailableException : Exception
{
    /// <summary>Creates the error with no words.</summary>
    public StoreUnavailableException() { }

    /// <summary>Creates the error with the cause and the fix.</summary>
    public StoreUnavailableException(string message) : base(message) { }

    /// <summary>Creates the error with the cause and the fix, and what the database said.</summary>
    public StoreUnavailableException(string message, Exception innerException) : base(message, innerException) { }
}
