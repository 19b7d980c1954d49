using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Storage.Readings.Queries;
using Incubation.Storage.Readings.Rollups;
using Incubation.Storage.Readings.Sealed;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Incubation.Storage.Readings.Keeping;

/// <summary>
/// Seals days that are over and deletes those that are no longer wanted, a day at a time. Packing is done here, on the caller's thread; the
/// writer gets short pieces of work with pauses between them, so that readings never wait behind more than one.
/// </summary>
internal sealed class DayKeeper(ReadingWriter writer, ReadingQueries queries)
{
    // Files under it are left as they are: giving so little back to the disk isn't worth the writing.
    private const long LeastToGiveBack = 8 * 1024 * 1024;
    private const int PagesAtOnce = 500;

    private static readonly TimeSpan LongestPause = TimeSpan.FromMilliseconds(250);

    /// <summary>Seals every day that ended before <paramref name="ended"/>.</summary>
    /// <returns>Days that were sealed.</returns>
    public async Task<int> SealAsync(Instant ended, CancellationToken stop)
    {
        long before = Spans.StartOf(ended.ToUnixTimeMilliseconds(), Spans.Day);
        int count = 0;
        foreach ((long id, SeriesKey key) in queries.Run(SeriesList.All))
        {
            foreach (long day in queries.Run(connection => SeriesList.RawDays(connection, id, before)))
            {
                count += await SealAsync(key, day, stop) ? 1 : 0;
            }
        }

        return count;
    }

    /// <summary>Deletes what is older than is wanted of its quantity, in no day that must stay, and owed to no copy.</summary>
    /// <returns>Days that were deleted.</returns>
    public async Task<int> DropAsync(Instant now, IReadOnlyDictionary<string, int> keepDays, IKeptDays kept, CancellationToken stop)
    {
        int count = 0;
        foreach ((long id, SeriesKey key) in queries.Run(SeriesList.All))
        {
            if (!keepDays.TryGetValue(key.Quantity.Name, out int days))
            {
                continue;
            }

            long before = Spans.StartOf((now - Duration.FromDays(days)).ToUnixTimeMilliseconds(), Spans.Day);
            List<long> old = queries.Run(connection => (List<long>)
                [.. SeriesList.RawDays(connection, id, before), .. SeriesList.SealedDays(connection, id, before)]);
            foreach (long day in old.Order())
            {
                Instant from = Instant.FromUnixTimeMilliseconds(day);
                if (!kept.MustKeep(key, from, from + Duration.FromDays(1)))
                {
                    bool gone = false;
                    await ChoreAsync(session => gone = session.Drop(key, day), stop);
                    count += gone ? 1 : 0;
                }
            }
        }

        await GiveBackAsync(stop);
        return count;
    }

    private async Task<bool> SealAsync(SeriesKey key, long day, CancellationToken stop)
    {
        bool watched = false;
        while (!watched)
        {
            await ChoreAsync(session => watched = session.Watch(key, day), stop);
        }

        SealedRow? packed = queries.Run(connection => Pack(connection, key, day));
        bool done = false;
        if (packed is not null)
        {
            await ChoreAsync(session => done = session.Seal(key, day, packed), stop);
        }

        return done;
    }

    private SealedRow? Pack(SqliteConnection connection, SeriesKey key, long day)
    {
        using SeriesView? view = queries.View(connection, key);
        List<StoredRow> rows = view?.Raw(day, day + Spans.Day) ?? [];
        if (rows.Count is 0 or > Limits.SealedDayReadings)
        {
            return null;
        }

        SealedRow packed = SealedRow.Of(rows.ToArray());
        // What is about to be deleted must be there to the last bit.
        return new SealedReadings(packed.Readings).Rows().AsSpan().SequenceEqual(rows.ToArray(), SameBits.Instance)
            ? packed
            : throw new StoreUnavailableException($"A day of {key} doesn't unpack to what it was packed from. It stays as it is; please report this.");
    }

    // Room that was deleted is used again first; only much of it is given back.
    private async Task GiveBackAsync(CancellationToken stop)
    {
        while (queries.Run(connection => SeriesList.Number(connection, "PRAGMA freelist_count") is var free
            && free * ReadingsTables.PageBytes > LeastToGiveBack && free * 4 > SeriesList.Number(connection, "PRAGMA page_count")))
        {
            bool more = false;
            await ChoreAsync(session => more = session.GiveBack(PagesAtOnce), stop);
            if (!more)
            {
                return;
            }
        }
    }

    private async Task ChoreAsync(Action<WriteSession> chore, CancellationToken stop)
    {
        long begun = TimeProvider.System.GetTimestamp();
        await writer.AddAsync(new PendingCommit(default, chore), stop);
        TimeSpan pause = 2 * TimeProvider.System.GetElapsedTime(begun);
        await Task.Delay(pause < LongestPause ? pause : LongestPause, TimeProvider.System, stop);
    }

    private sealed class SameBits : IEqualityComparer<StoredRow>
    {
        public static readonly SameBits Instance = new();

        public bool Equals(StoredRow x, StoredRow y) =>
            x == y && BitConverter.DoubleToInt64Bits(x.Value) == BitConverter.DoubleToInt64Bits(y.Value);

        public int GetHashCode(StoredRow row) => row.GetHashCode();
    }
}
