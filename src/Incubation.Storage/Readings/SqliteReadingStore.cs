using Incubation.Core.Readings;
using Incubation.Storage.Readings.Keeping;
using Incubation.Storage.Readings.Queries;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Incubation.Storage.Readings;

/// <summary>
/// Readings in one SQLite file with a write-ahead log. One thread writes, in grouped commits; reads use connections of their own and never
/// wait for it. <see cref="Open"/> first; before it and after <see cref="DisposeAsync"/> every call fails with words.
/// </summary>
public sealed class SqliteReadingStore(SqliteReadingStoreOptions options) : IReadingStore, IStoreReach, IStoreState, IAsyncDisposable
{
    private const int ImportAhead = 4;

    private readonly ReadingQueries _queries = new(options.Path);
    private ReadingWriter? _writer;
    private bool _closed;

    /// <inheritdoc/>
    public event Action? StateChanged;

    /// <inheritdoc/>
    public StoreState State => _writer?.State ?? NotOpen;

    private static StoreState NotOpen => new(StoreKind.Refusing, Instant.MinValue, StoreTrouble.Closed().Message, 0, 0, false);

    /// <summary>Opens or makes the file, checks what durability rests on, and starts the writer.</summary>
    /// <exception cref="StoreUnavailableException">It can't be opened, is damaged, or is from a newer version; with the cause and the fix.</exception>
    public void Open()
    {
        if (_closed || _writer is not null)
        {
            throw new InvalidOperationException("The readings store is opened once.");
        }

        _writer = new ReadingWriter(options, () => StateChanged?.Invoke());
    }

    /// <inheritdoc/>
    public Task StoreAsync(ReadOnlyMemory<Reading> readings, CancellationToken cancellationToken) => StoreAsync(readings, null, cancellationToken);

    /// <inheritdoc/>
    public Task StoreAsync(ReadOnlyMemory<Reading> readings, ReadingSender? sender, CancellationToken cancellationToken)
    {
        foreach (ref readonly Reading reading in readings.Span)
        {
            if (!double.IsFinite(reading.Value) || string.IsNullOrEmpty(reading.Series.Probe) || string.IsNullOrEmpty(reading.Series.Quantity.Name))
            {
                return Task.FromException(new ArgumentException("A reading needs a probe, a quantity and a finite value.", nameof(readings)));
            }
        }

        return readings.IsEmpty ? Task.CompletedTask
            : _writer is { } writer && !_closed ? writer.AddAsync(new PendingCommit(readings, sender: sender), cancellationToken)
            : Task.FromException(StoreTrouble.Closed());
    }

    /// <summary>Stores a long history fast: many readings per commit, a few commits ahead. Completes when all of it is on the disk.</summary>
    /// <exception cref="StoreUnavailableException">A part could not be stored; what came before it is.</exception>
    public async Task ImportAsync(IEnumerable<Reading> readings, CancellationToken cancellationToken)
    {
        Queue<Task> ahead = new();
        foreach (Reading[] part in readings.Chunk(Core.Limits.CommitBatch))
        {
            ahead.Enqueue(StoreAsync(part, cancellationToken));
            if (ahead.Count >= ImportAhead)
            {
                await ahead.Dequeue();
            }
        }

        await Task.WhenAll(ahead);
    }

    /// <inheritdoc/>
    public IReadOnlyList<Reading> Read(SeriesKey series, Instant from, Instant to) =>
        Query(connection => _queries.Read(connection, series, from.ToUnixTimeMilliseconds(), to.ToUnixTimeMilliseconds()));

    /// <inheritdoc/>
    public ReadingBuckets Buckets(SeriesKey series, Instant from, Instant to, int buckets, Correction correction)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(buckets, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(buckets, Core.Limits.HistoryBuckets);
        if (to <= from)
        {
            throw new ArgumentException("A history needs an end after its start.", nameof(to));
        }

        BucketSums sums = new(from.ToUnixTimeMilliseconds(), to.ToUnixTimeMilliseconds(), buckets, correction);
        return Query(connection =>
        {
            _queries.Fill(connection, series, sums);
            return sums.Columns();
        });
    }

    /// <summary>The same from every single reading, without any sums: what <see cref="Buckets"/> is measured against.</summary>
    internal ReadingBuckets ScanAll(SeriesKey series, Instant from, Instant to, int buckets)
    {
        BucketSums sums = new(from.ToUnixTimeMilliseconds(), to.ToUnixTimeMilliseconds(), buckets, Correction.None);
        return Query(connection =>
        {
            _queries.Fill(connection, series, sums, fromReadings: true);
            return sums.Columns();
        });
    }

    /// <inheritdoc/>
    public IReadOnlyList<Reading> Latest() => Query(_queries.Latest);

    /// <summary>Seals every day that ended before <paramref name="ended"/>, one after the other, without getting in the writer's way.</summary>
    /// <returns>Days that were sealed.</returns>
    /// <exception cref="StoreUnavailableException">It failed; whatever was sealed is whole, the rest is as it was.</exception>
    public Task<int> SealAsync(Instant ended, CancellationToken cancellationToken) =>
        TendAsync(() => new DayKeeper(Writer(), _queries).SealAsync(ended, cancellationToken));

    /// <summary>
    /// Deletes whole days that are older than <paramref name="keepDays"/> says of their quantity, except those that must be kept and those that a
    /// copy elsewhere still waits for. Quantities that it doesn't name are kept for good.
    /// </summary>
    /// <returns>Days that were deleted.</returns>
    /// <exception cref="StoreUnavailableException">It failed half-way; it goes on next time.</exception>
    public Task<int> DropAsync(Instant now, IReadOnlyDictionary<string, int> keepDays, IKeptDays kept, CancellationToken cancellationToken) =>
        TendAsync(() => new DayKeeper(Writer(), _queries).DropAsync(now, keepDays, kept, cancellationToken));

    /// <inheritdoc/>
    /// <exception cref="StoreUnavailableException">The file can't be read.</exception>
    public IReadOnlyList<Interval> Gone(SeriesKey series, Instant from, Instant to) => from >= to ? [] : Query(connection =>
    {
        long first = from.ToUnixTimeMilliseconds(), end = to.ToUnixTimeMilliseconds();
        return (List<Interval>)
        [
            .. (SeriesList.Find(connection, series) is { } id ? GivenUp.Of(connection, id) : [])
                .Select(gone => (From: Math.Max(gone.From, first), To: Math.Min(gone.To, end))).Where(gone => gone.From < gone.To)
                .Select(gone => new Interval(Instant.FromUnixTimeMilliseconds(gone.From), Instant.FromUnixTimeMilliseconds(gone.To))),
        ];
    });

    /// <summary>Looks the whole file over while it is in use, and remembers the outcome in it.</summary>
    /// <exception cref="StoreUnavailableException">It could not be read or the outcome not be stored.</exception>
    public Task<StoreCheck> CheckAsync(Func<Instant> now, CancellationToken cancellationToken) =>
        TendAsync(() => new SelfCheck(Writer(), _queries).RunAsync(now, cancellationToken));

    /// <summary>What the file is like now.</summary>
    /// <exception cref="StoreUnavailableException">It can't be read.</exception>
    public KeepingFacts Facts() => Query(connection =>
    {
        long raw = 0;
        long? oldest = null;
        foreach ((long id, SeriesKey _) in SeriesList.All(connection))
        {
            List<long> days = SeriesList.RawDays(connection, id, long.MaxValue);
            raw += days.Count;
            oldest = Least(oldest, days.FirstOrDefault(long.MaxValue), SeriesList.SealedDays(connection, id, long.MaxValue).FirstOrDefault(long.MaxValue));
        }

        return new KeepingFacts(
            new[] { options.Path, options.Path + "-wal" }.Where(File.Exists).Sum(file => new FileInfo(file).Length),
            oldest is { } at && at != long.MaxValue ? Instant.FromUnixTimeMilliseconds(at) : null,
            SeriesList.Number(connection, "SELECT count(*) FROM sealed"), raw, SelfCheck.Last(connection));
    });

    /// <summary>Takes no more readings, stores those that wait, and closes the file.</summary>
    public async ValueTask DisposeAsync()
    {
        _closed = true;
        if (_writer is { } writer)
        {
            await writer.StopAsync();
        }

        _queries.Close();
    }

    private static long Least(long? one, long two, long three) => Math.Min(Math.Min(one ?? long.MaxValue, two), three);

    private ReadingWriter Writer() => _writer is { } writer && !_closed ? writer : throw StoreTrouble.Closed();

    private static async Task<T> TendAsync<T>(Func<Task<T>> tend)
    {
        try
        {
            return await tend();
        }
        catch (SqliteException error)
        {
            throw StoreTrouble.From(error);
        }
    }

    private T Query<T>(Func<SqliteConnection, T> query)
    {
        if (_writer is null || _closed)
        {
            throw StoreTrouble.Closed();
        }

        try
        {
            return _queries.Run(query);
        }
        catch (SqliteException error)
        {
            throw StoreTrouble.From(error);
        }
    }
}
