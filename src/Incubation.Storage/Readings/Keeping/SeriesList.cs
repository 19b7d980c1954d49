using Incubation.Core.Readings;
using Incubation.Storage.Readings.Rollups;
using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings.Keeping;

/// <summary>Which series there are and which days of them lie where, on a reading connection.</summary>
internal static class SeriesList
{
    public static List<(long Id, SeriesKey Key)> All(SqliteConnection connection)
    {
        using Statement select = new(connection, "SELECT id, probe, quantity FROM series ORDER BY id");
        List<(long, SeriesKey)> all = [];
        while (select.Row())
        {
            all.Add((select.Integer(0), new SeriesKey(select.Text(1), new Quantity(select.Text(2)))));
        }

        return all;
    }

    /// <summary>Row of a series; null for one that was never stored.</summary>
    public static long? Find(SqliteConnection connection, SeriesKey key)
    {
        using Statement find = new(connection, "SELECT id FROM series WHERE probe = ?1 AND quantity = ?2");
        find.Bind(1, key.Probe).Bind(2, key.Quantity.Name);
        long? id = find.Row() ? find.Integer(0) : null;
        find.Done();
        return id;
    }

    /// <summary>Starts of the days before <paramref name="before"/> that have raw rows, oldest first: one short look for each.</summary>
    public static List<long> RawDays(SqliteConnection connection, long series, long before)
    {
        using Statement next = new(connection, "SELECT at FROM reading WHERE series = ?1 AND at >= ?2 AND at < ?3 ORDER BY at LIMIT 1");
        List<long> days = [];
        for (long from = long.MinValue; ;)
        {
            next.Bind(1, series).Bind(2, from).Bind(3, before);
            if (!next.Row())
            {
                return days;
            }

            days.Add(Spans.StartOf(next.Integer(0), Spans.Day));
            next.Done();
            from = days[^1] + Spans.Day;
        }
    }

    /// <summary>Starts of the sealed days before a time.</summary>
    public static List<long> SealedDays(SqliteConnection connection, long series, long before)
    {
        using Statement select = new(connection, "SELECT day FROM sealed WHERE series = ?1 AND day < ?2 ORDER BY day");
        select.Bind(1, series).Bind(2, before);
        List<long> days = [];
        while (select.Row())
        {
            days.Add(select.Integer(0));
        }

        return days;
    }

    public static long Number(SqliteConnection connection, string sql)
    {
        using Statement ask = new(connection, sql);
        long number = ask.Row() ? ask.Integer(0) : 0;
        ask.Done();
        return number;
    }
}
