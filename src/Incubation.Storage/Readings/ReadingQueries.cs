using Incubation.Core.Readings;
using Incubation.Storage.Readings.Rollups;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Incubation.Storage.Readings;

/// <summary>Reads, each on a pooled connection that can't write and in one snapshot.</summary>
internal sealed class ReadingQueries(string path)
{
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

    public static List<Reading> Read(SqliteConnection connection, SeriesKey series, long from, long to)
    {
        using SqliteCommand command = Command(connection, """
            SELECT at, value, arrived, marks FROM reading
            WHERE series = (SELECT id FROM series WHERE probe = $probe AND quantity = $quantity) AND at >= $from AND at < $to ORDER BY at
            """, series, from, to);
        using SqliteDataReader rows = command.ExecuteReader();
        List<Reading> readings = [];
        while (rows.Read())
        {
            readings.Add(ReadingOf(series, rows, 0));
        }

        return readings;
    }

    public static List<Reading> Latest(SqliteConnection connection)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = """
            SELECT s.probe, s.quantity, r.at, r.value, r.arrived, r.marks FROM series s
            JOIN reading r ON r.series = s.id AND r.at = (SELECT max(at) FROM reading WHERE series = s.id)
            """;
        using SqliteDataReader rows = command.ExecuteReader();
        List<Reading> readings = [];
        while (rows.Read())
        {
            readings.Add(ReadingOf(new SeriesKey(rows.GetString(0), new Quantity(rows.GetString(1))), rows, 2));
        }

        return readings;
    }

    /// <summary>
    /// Fills buckets: minutes that lie in one bucket come from the rollups, the minutes that an edge cuts from the raw rows. Narrow buckets
    /// cut nearly every minute, so they come from the raw rows whole.
    /// </summary>
    public static int Fill(SqliteConnection connection, SeriesKey series, BucketSums sums)
    {
        if (sums.WidthMs < 2 * Spans.Minute)
        {
            FillFromRaw(connection, series, sums, sums.From, sums.To);
            return 0;
        }

        // What isn't summed up yet is counted from the raw rows, in the same snapshot.
        long rolled = Math.Clamp(Rolled(connection, series), sums.From, sums.To);
        FillFromRaw(connection, series, sums, rolled, sums.To);
        List<long> cut = FillFromMinutes(connection, series, sums, rolled);
        foreach (long start in cut)
        {
            FillFromRaw(connection, series, sums, Math.Max(start, sums.From), Math.Min(start + Spans.Minute, rolled));
        }

        return cut.Count;
    }

    private static List<long> FillFromMinutes(SqliteConnection connection, SeriesKey series, BucketSums sums, long rolled)
    {
        using SqliteCommand command = Command(connection, """
            SELECT start, count, sum, least, greatest FROM minute
            WHERE series = (SELECT id FROM series WHERE probe = $probe AND quantity = $quantity) AND start >= $from AND start < $to ORDER BY start
            """, series, Spans.StartOf(sums.From, Spans.Minute), rolled);
        using SqliteDataReader rows = command.ExecuteReader();
        List<long> cut = [];
        while (rows.Read())
        {
            long start = rows.GetInt64(0), last = start + Spans.Minute - 1;
            if (start < sums.From || last >= rolled || sums.IndexOf(start) != sums.IndexOf(last))
            {
                cut.Add(start);
            }
            else
            {
                sums.Add(start, rows.GetInt32(1), rows.GetDouble(2), rows.GetDouble(3), rows.GetDouble(4));
            }
        }

        return cut;
    }

    private static void FillFromRaw(SqliteConnection connection, SeriesKey series, BucketSums sums, long from, long to)
    {
        using SqliteCommand command = Command(connection, $"""
            SELECT at, value FROM reading
            WHERE series = (SELECT id FROM series WHERE probe = $probe AND quantity = $quantity) AND at >= $from AND at < $to
                AND marks & {(int)Spans.NotGood} = 0 ORDER BY at
            """, series, from, to);
        using SqliteDataReader rows = command.ExecuteReader();
        while (rows.Read())
        {
            double value = rows.GetDouble(1);
            sums.Add(rows.GetInt64(0), 1, value, value, value);
        }
    }

    private static long Rolled(SqliteConnection connection, SeriesKey series)
    {
        using SqliteCommand command = Command(
            connection, "SELECT rolled + 0 * $from * $to FROM series WHERE probe = $probe AND quantity = $quantity", series, 0, 0);
        return command.ExecuteScalar() as long? ?? 0;
    }

    private static SqliteCommand Command(SqliteConnection connection, string sql, SeriesKey series, long from, long to)
    {
        SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        command.Parameters.AddWithValue("$probe", series.Probe);
        command.Parameters.AddWithValue("$quantity", series.Quantity.Name);
        command.Parameters.AddWithValue("$from", from);
        command.Parameters.AddWithValue("$to", to);
        return command;
    }

    private static Reading ReadingOf(SeriesKey series, SqliteDataReader rows, int column) => new(
        series, rows.GetDouble(column + 1), Instant.FromUnixTimeMilliseconds(rows.GetInt64(column)),
        Instant.FromUnixTimeMilliseconds(rows.GetInt64(column + 2)), (ReadingMarks)rows.GetInt32(column + 3));
}
