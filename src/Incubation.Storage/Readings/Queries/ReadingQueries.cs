using Incubation.Core.Readings;
using Incubation.Storage.Readings.Rollups;
using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings.Queries;

/// <summary>Reads, each on a pooled connection that can't write and in one snapshot.</summary>
internal sealed class ReadingQueries(string path)
{
    private readonly SealedCache _cache = new();
    private readonly string _source = new SqliteConnectionStringBuilder
    {
        DataSource = path,
        Mode = SqliteOpenMode.ReadOnly,
        Pooling = true,
        DefaultTimeout = 5,
    }.ToString();

    public T Run<T>(Func<SqliteConnection, T> query)
    {
        using SqliteConnection connection = new(_source);
        connection.Open();
        using SqliteTransaction snapshot = connection.BeginTransaction(deferred: true);
        return query(connection);
    }

    public void Close()
    {
        using SqliteConnection connection = new(_source);
        SqliteConnection.ClearPool(connection);
    }

    /// <summary>A series in the snapshot of a connection; null for one that was never stored.</summary>
    public SeriesView? View(SqliteConnection connection, in SeriesKey series) => SeriesView.Open(connection, _cache, series);

    public List<Reading> Read(SqliteConnection connection, SeriesKey series, long from, long to)
    {
        using SeriesView? view = SeriesView.Open(connection, _cache, series);
        if (view is null)
        {
            return [];
        }

        List<Reading> readings = [];
        long at = from;
        foreach ((long Day, long Id) day in view.SealedDays(from, to))
        {
            Add(view.Raw(at, Math.Max(at, day.Day)));
            Add(view.Readings(day).Rows());
            at = day.Day + Spans.Day;
        }

        Add(view.Raw(at, to));
        return readings;

        void Add(IEnumerable<StoredRow> rows)
        {
            foreach (StoredRow row in rows)
            {
                if (row.At >= from && row.At < to)
                {
                    readings.Add(row.For(series));
                }
            }
        }
    }

    public List<Reading> Latest(SqliteConnection connection)
    {
        List<SeriesKey> all = [];
        using (Statement series = new(connection, "SELECT probe, quantity FROM series ORDER BY id"))
        {
            while (series.Row())
            {
                all.Add(new SeriesKey(series.Text(0), new Quantity(series.Text(1))));
            }
        }

        List<Reading> latest = [];
        using Statement newestDay = new(connection, "SELECT day, id FROM sealed WHERE series = ?1 ORDER BY day DESC LIMIT 1");
        using Statement newestRaw = new(connection, "SELECT at, value, arrived, marks FROM reading WHERE series = ?1 ORDER BY at DESC LIMIT 1");
        foreach (SeriesKey key in all)
        {
            using SeriesView view = SeriesView.Open(connection, _cache, key)!;
            StoredRow? newest = null;
            newestRaw.Bind(1, view.Id);
            if (newestRaw.Row())
            {
                newest = new StoredRow(newestRaw.Integer(0), newestRaw.Real(1), newestRaw.Integer(2), (ReadingMarks)newestRaw.Integer(3));
                newestRaw.Done();
            }

            newestDay.Bind(1, view.Id);
            if (newestDay.Row())
            {
                (long Day, long Id) day = (newestDay.Integer(0), newestDay.Integer(1));
                newestDay.Done();
                newest = newest is { } row && row.At >= day.Day ? row : view.Readings(day).Rows()[^1];
            }

            if (newest is { } known)
            {
                latest.Add(known.For(key));
            }
        }

        return latest;
    }

    /// <summary>Fills the buckets of one series.</summary>
    public void Fill(SqliteConnection connection, SeriesKey series, BucketSums sums)
    {
        using SeriesView? view = SeriesView.Open(connection, _cache, series);
        if (view is not null)
        {
            BucketFill.Run(view, sums);
        }
    }
}
