using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>
/// A copy of the readings that reaches further back than the store may: asked only for what the store no longer has, or is told not to look
/// up itself. Alarms, the newest readings and the hatch forecasts never ask here. Safe to call from any thread.
/// </summary>
public interface IReadingArchive
{
    /// <summary>The same buckets as <see cref="IReadingStore.Buckets"/> gives for the same readings; sums may differ by rounding.</summary>
    /// <exception cref="ArchiveUnavailableException">It does not answer, or not fully; with the cause and the fix. Never a part as if it were all.</exception>
    Task<ReadingBuckets> BucketsAsync(
        SeriesKey series, Instant from, Instant to, int buckets, Correction correction, CancellationToken cancellationToken);
}

/// <summary>The archive can't answer now. Nothing is lost by it: what was asked can be asked again.</summary>
public sealed class ArchiveUnavailableException : Exception
{
    /// <summary>Creates the error with no words.</summary>
    public ArchiveUnavailableException() { }

    /// <summary>Creates the error with the cause and the fix.</summary>
    public ArchiveUnavailableException(string message) : base(message) { }

    /// <summary>Creates the error with the cause and the fix, and what was thrown.</summary>
    public ArchiveUnavailableException(string message, Exception innerException) : base(message, innerException) { }
}
