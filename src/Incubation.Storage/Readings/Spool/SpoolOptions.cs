using Incubation.Core;

namespace Incubation.Storage.Readings.Spool;

/// <summary>What is kept ready for a disk that is full or fails.</summary>
public sealed class SpoolOptions
{
    /// <summary>Path of the spool file, such as <c>data/readings.spool</c>.</summary>
    public required string Path { get; init; }

    /// <summary>Its size, bytes.</summary>
    public long Bytes { get; init; } = Limits.SpoolMegabytes * 1024L * 1024;

    /// <summary>The room that is given up when the disk is nearly full; null keeps none.</summary>
    public DiskReserve? Reserve { get; init; }

    /// <summary>Longest pause between two tries of the database. A test may shorten it.</summary>
    public TimeSpan LongestRetry { get; init; } = TimeSpan.FromSeconds(Limits.StoreRetrySeconds);
}
