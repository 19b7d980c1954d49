using Incubation.Core.Readings;
using Incubation.Storage.Readings.Rollups;
using Incubation.Storage.Readings.Sealed;
using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings.Queries;

/// <summary>One series as a snapshot of the file has it: raw rows, rollups and sealed days.</summary>
internal sealed class SeriesView : IDisposable
{
    private readonly SqliteConnection _connection;
    private readonly SealedCache _cache;
    private readonly Dictionary<string, Statement> _statements = [];
    private readonly BlockScratch _scratch = new();

    private SeriesView(SqliteConnection connection, SealedCache cache, long id, long rolled)
    {
        (_connection, _cache, Id, Rolled) = (connection, cache, id, rolled);
        Table = new SealedTable(connection);
    }

    public long Id { get; }

    /// <summary>Start of the first hour that is in no rollup table.</summary>
    public long Rolled { get; }

    public SealedTable Table { get; }

    /// <summary>Null for a series that was never stored.</summary>
    public static SeriesView? Open(SqliteConnection connection, SealedCache cache, in SeriesKey key)
    {
        using Statement find = new(connection, "SELECT id, rolled FROM series WHERE probe = ?1 AND quantity = ?2");
        find.Bind(1, key.Probe).Bind(2, key.Quantity.Name);
        return find.Row() ? new SeriesView(connection, cache, find.Integer(0), find.Integer(1)) : null;
    }

    /// <summary>Sealed days that hold a part of [from, to), oldest first.</summary>
    public List<(long Day, long Id)> SealedDays(long from, long to) => Table.Days(Id, from - Spans.Day, to);

    public DayMinutes Minutes((long Day, long Id) day) => _cache.Minutes(Table, day.Day, day.Id);

    public SealedReadings Readings((long Day, long Id) day) => _cache.Readings(Table, day.Id);

    /// <summary>Good readings of a sealed day, within [from, to).</summary>
    public void Good((long Day, long Id) day, long from, long to, GoodReadings into) => Readings(day).Good(from, to, _scratch, into);

    /// <summary>Rows of a rollup table with from ≤ start &lt; to, in order.</summary>
    public IEnumerable<(long Start, RollupSum Sum)> Rollups(string table, long from, long to)
    {
        Statement select = Prepared($"SELECT start, count, sum, least, greatest FROM {table} WHERE series = ?1 AND start >= ?2 AND start < ?3 ORDER BY start");
        select.Bind(1, Id).Bind(2, from).Bind(3, to);
        // Read whole first: the one statement may be needed again for what a row needs from a finer table.
        List<(long, RollupSum)> rows = [];
        while (select.Row())
        {
            rows.Add((select.Integer(0), new RollupSum(select.Integer(1), select.Real(2), select.Real(3), select.Real(4))));
        }

        return rows;
    }

    /// <summary>Raw rows with from ≤ at &lt; to, in order.</summary>
    public List<StoredRow> Raw(long from, long to)
    {
        Statement select = Prepared("SELECT at, value, arrived, marks FROM reading WHERE series = ?1 AND at >= ?2 AND at < ?3 ORDER BY at");
        select.Bind(1, Id).Bind(2, from).Bind(3, to);
        List<StoredRow> rows = [];
        while (select.Row())
        {
            rows.Add(new StoredRow(select.Integer(0), select.Real(1), select.Integer(2), (ReadingMarks)select.Integer(3)));
        }

        return rows;
    }

    /// <summary>Adds good raw rows with from ≤ at &lt; to.</summary>
    public void RawInto(long from, long to, BucketSums sums)
    {
        Statement select = Prepared($"SELECT at, value FROM reading WHERE series = ?1 AND at >= ?2 AND at < ?3 AND marks & {(int)Spans.NotGood} = 0 ORDER BY at");
        select.Bind(1, Id).Bind(2, from).Bind(3, to);
        long end = long.MinValue, start = 0;
        RollupSum sum = default;
        while (select.Row())
        {
            long at = select.Integer(0);
            if (at >= end)
            {
                if (sum.Count > 0)
                {
                    sums.Add(start, sum);
                }

                (start, end, sum) = (at, sums.EndOf(at), default);
            }

            sum = sum.With(select.Real(1));
        }

        if (sum.Count > 0)
        {
            sums.Add(start, sum);
        }
    }

    public void Dispose()
    {
        Table.Dispose();
        foreach (Statement statement in _statements.Values)
        {
            statement.Dispose();
        }
    }

    private Statement Prepared(string sql)
    {
        if (!_statements.TryGetValue(sql, out Statement? known))
        {
            _statements.Add(sql, known = new Statement(_connection, sql));
        }

        return known;
    }
}
