using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>A stretch of time and where its readings are looked up.</summary>
internal readonly record struct HistoryStretch(long FromMs, long ToMs, bool FromArchive);

/// <summary>
/// History for looking at, from here where it is here, and from the copy where it no longer is, or beyond the age that the settings say.
/// Whatever judges readings asks <see cref="IReadingHistory"/>, which never waits for another machine.
/// </summary>
internal sealed class LongHistory(IReadingHistory here, IStoreReach reach, ICorrections corrections, Copies copies, ServiceClock clock)
{
    /// <summary>Cuts [from, to) of a series by where it is looked up.</summary>
    public IReadOnlyList<HistoryStretch> Stretches(SeriesKey series, long fromMs, long toMs)
    {
        if (copies.Archive is null || fromMs >= toMs)
        {
            return [new HistoryStretch(fromMs, toMs, FromArchive: false)];
        }

        long beyond = copies.ReadBeyond is { } age
            ? Math.Clamp((clock.Wall - age).ToUnixTimeMilliseconds(), fromMs, toMs)
            : fromMs;
        List<HistoryStretch> stretches = [];
        Add(fromMs, beyond, fromArchive: true);
        long at = beyond;
        foreach (Interval gone in beyond < toMs ? reach.Gone(series, Instant.FromUnixTimeMilliseconds(beyond), Instant.FromUnixTimeMilliseconds(toMs)) : [])
        {
            long start = Math.Clamp(gone.Start.ToUnixTimeMilliseconds(), at, toMs), end = Math.Clamp(gone.End.ToUnixTimeMilliseconds(), start, toMs);
            Add(at, start, fromArchive: false);
            Add(start, end, fromArchive: true);
            at = end;
        }

        Add(at, toMs, fromArchive: false);
        return stretches;

        void Add(long start, long end, bool fromArchive)
        {
            if (end > start)
            {
                stretches.Add(new HistoryStretch(start, end, fromArchive));
            }
        }
    }

    /// <summary>Buckets of a part of a stretch.</summary>
    /// <exception cref="ArchiveUnavailableException">The copy can't answer now.</exception>
    public async Task<ReadingBuckets> BucketsAsync(
        SeriesKey series, long fromMs, long toMs, int buckets, bool fromArchive, CancellationToken cancellationToken)
    {
        Instant from = Instant.FromUnixTimeMilliseconds(fromMs), to = Instant.FromUnixTimeMilliseconds(toMs);
        return fromArchive
            ? await copies.Archive!.BucketsAsync(series, from, to, buckets, corrections.Of(series), cancellationToken)
            : here.Buckets(series, from, to, buckets);
    }
}
