using Incubation.Core.Readings;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Incubation.Storage.Readings;

/// <summary>What the outbox is asked, on a connection that can't write.</summary>
internal static class CopyOutboxQueries
{
    public static List<CopyRow> Rows(SqliteConnection connection, long after, int most)
    {
        using SqliteCommand command = Command(connection, """
            SELECT s.probe, s.quantity, o.at, o.value, o.marks, o.id, o.series FROM copy_outbox o JOIN series s ON s.id = o.series
            WHERE o.id > $after ORDER BY o.id LIMIT $most
            """, ("$after", after), ("$most", most));
        using SqliteDataReader rows = command.ExecuteReader();
        List<CopyRow> found = new(most);
        while (rows.Read())
        {
            found.Add(new CopyRow(rows.GetInt64(5), rows.GetInt64(6), ReadingOf(rows)));
        }

        return found;
    }

    public static List<CopyDay> Days(SqliteConnection connection, int most)
    {
        using SqliteCommand command = Command(connection, """
            SELECT d.series, s.probe, s.quantity, d.day, d.changes FROM copy_day d JOIN series s ON s.id = d.series
            WHERE d.held = 0 ORDER BY d.day DESC, d.series LIMIT $most
            """, ("$most", most));
        using SqliteDataReader rows = command.ExecuteReader();
        List<CopyDay> found = [];
        while (rows.Read())
        {
            found.Add(new CopyDay(rows.GetInt64(0), new SeriesKey(rows.GetString(1), new Quantity(rows.GetString(2))), rows.GetInt64(3), rows.GetInt64(4)));
        }

        return found;
    }

    public static List<RefusedCopy> Refused(SqliteConnection connection, int most)
    {
        using SqliteCommand command = Command(connection, """
            SELECT s.probe, s.quantity, r.at, r.value, r.marks, r.reason, r.refused FROM copy_refused r JOIN series s ON s.id = r.series
            ORDER BY r.refused DESC, r.at DESC LIMIT $most
            """, ("$most", most));
        using SqliteDataReader rows = command.ExecuteReader();
        List<RefusedCopy> found = [];
        while (rows.Read())
        {
            found.Add(new RefusedCopy(ReadingOf(rows), rows.GetString(5), Instant.FromUnixTimeMilliseconds(rows.GetInt64(6))));
        }

        return found;
    }

    public static (int Days, int Held, Instant? Oldest) Debt(SqliteConnection connection, long after)
    {
        using SqliteCommand command = Command(connection, """
            SELECT (SELECT count(*) FROM copy_day WHERE held = 0), (SELECT count(*) FROM copy_day WHERE held <> 0),
                (SELECT at FROM copy_outbox WHERE id > $after ORDER BY id LIMIT 1), (SELECT min(day) FROM copy_day WHERE held = 0)
            """, ("$after", after));
        using SqliteDataReader row = command.ExecuteReader();
        row.Read();
        long? entry = row.IsDBNull(2) ? null : row.GetInt64(2), day = row.IsDBNull(3) ? null : row.GetInt64(3);
        long? oldest = entry < day || day is null ? entry : day;
        return (row.GetInt32(0), row.GetInt32(1), oldest is { } at ? Instant.FromUnixTimeMilliseconds(at) : null);
    }

    // The time of arrival is not copied.
    private static Reading ReadingOf(SqliteDataReader rows)
    {
        Instant at = Instant.FromUnixTimeMilliseconds(rows.GetInt64(2));
        return new Reading(
            new SeriesKey(rows.GetString(0), new Quantity(rows.GetString(1))), rows.GetDouble(3), at, at, (ReadingMarks)rows.GetInt32(4));
    }

    private static SqliteCommand Command(SqliteConnection connection, string sql, params ReadOnlySpan<(string Name, object Value)> values)
    {
        SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        foreach ((string name, object value) in values)
        {
            command.Parameters.AddWithValue(name, value);
        }

        return command;
    }
}
