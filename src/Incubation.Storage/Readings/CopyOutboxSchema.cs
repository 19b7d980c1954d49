using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings;

/// <summary>
/// Tables of the copy in the readings file. They are made when a copy is set up and dropped when it is no longer, so they are no part of the
/// file's schema version.
/// </summary>
internal static class CopyOutboxSchema
{
    private const string Tables = """
        CREATE TABLE IF NOT EXISTS copy_target (id INTEGER PRIMARY KEY CHECK (id = 1), name TEXT NOT NULL) STRICT;
        CREATE TABLE IF NOT EXISTS copy_outbox (
            id INTEGER PRIMARY KEY, series INTEGER NOT NULL, at INTEGER NOT NULL, value REAL NOT NULL, marks INTEGER NOT NULL) STRICT;
        CREATE TABLE IF NOT EXISTS copy_day (
            series INTEGER NOT NULL, day INTEGER NOT NULL, changes INTEGER NOT NULL, held INTEGER NOT NULL,
            PRIMARY KEY (series, day)) STRICT, WITHOUT ROWID;
        CREATE TABLE IF NOT EXISTS copy_refused (
            series INTEGER NOT NULL, at INTEGER NOT NULL, value REAL NOT NULL, marks INTEGER NOT NULL, reason TEXT NOT NULL,
            refused INTEGER NOT NULL, PRIMARY KEY (series, at)) STRICT, WITHOUT ROWID;
        """;

    // What was refused may be taken now: somebody has most likely mended something in between.
    private const string TryAgain = """
        INSERT INTO copy_day (series, day, changes, held)
            SELECT series, at - (at % 86400000 + 86400000) % 86400000, 1, 0 FROM copy_refused GROUP BY 1, 2 ON CONFLICT DO NOTHING;
        DELETE FROM copy_refused;
        UPDATE copy_day SET held = 0 WHERE held <> 0;
        """;

    /// <summary>Makes the tables; fills the list of days when the target is new.</summary>
    /// <param name="connection">The writer's.</param>
    /// <param name="target">Where the copy goes.</param>
    /// <param name="first">Whether the service was just started.</param>
    public static (long Highest, long Lowest, long Changes, int Refused) Begin(SqliteConnection connection, string target, bool first)
    {
        using SqliteTransaction transaction = connection.BeginTransaction();
        Run(connection, Tables);
        string? before = Ask(connection, "SELECT name FROM copy_target")?.ToString();
        if (before != target)
        {
            Run(connection, "DELETE FROM copy_outbox; DELETE FROM copy_day; DELETE FROM copy_refused; DELETE FROM copy_target;");
            using (SqliteCommand set = connection.CreateCommand())
            {
                set.CommandText = "INSERT INTO copy_target (id, name) VALUES (1, $name)";
                set.Parameters.AddWithValue("$name", target);
                set.ExecuteNonQuery();
            }

            NoteEveryDay(connection);
        }
        else if (first)
        {
            Run(connection, TryAgain);
        }

        long highest = Number(connection, "SELECT coalesce(max(id), 0) FROM copy_outbox");
        long lowest = Number(connection, "SELECT coalesce(min(id), 1) FROM copy_outbox");
        long changes = Number(connection, "SELECT coalesce(max(changes), 0) FROM copy_day");
        int refused = (int)Number(connection, "SELECT count(*) FROM copy_refused");
        transaction.Commit();
        return (highest, lowest, changes, refused);
    }

    /// <summary>No copy is wanted any more: when one is wanted again, it begins anew.</summary>
    public static void Forget(SqliteConnection connection)
        => Run(connection, "DROP TABLE IF EXISTS copy_outbox; DROP TABLE IF EXISTS copy_day; DROP TABLE IF EXISTS copy_refused; DROP TABLE IF EXISTS copy_target;");

    /// <summary>Whether a day's readings are still to be copied from here: as long as they are, they can't be given up.</summary>
    public static bool Owes(SqliteConnection connection, long series, long day)
    {
        if (Number(connection, "SELECT count(*) FROM sqlite_schema WHERE name IN ('copy_day', 'copy_refused')") < 2)
        {
            return false;
        }

        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = """
            SELECT EXISTS (SELECT 1 FROM copy_day WHERE series = $series AND day = $day)
                OR EXISTS (SELECT 1 FROM copy_refused WHERE series = $series AND at >= $day AND at < $day + 86400000)
            """;
        command.Parameters.AddWithValue("$series", series);
        command.Parameters.AddWithValue("$day", day);
        return (long)command.ExecuteScalar()! != 0;
    }

    // From one day to the next by the key: a look-up a day, not a scan of all readings.
    private static void NoteEveryDay(SqliteConnection connection)
    {
        Run(connection, "INSERT INTO copy_day (series, day, changes, held) SELECT series, day, 1, 0 FROM sealed WHERE true ON CONFLICT DO NOTHING;");
        using Statement next = new(connection, "SELECT at FROM reading WHERE series = ?1 AND at >= ?2 ORDER BY at LIMIT 1");
        using Statement note = new(connection, "INSERT INTO copy_day (series, day, changes, held) VALUES (?1, ?2, 1, 0) ON CONFLICT DO NOTHING");
        foreach (long series in Series(connection))
        {
            long from = long.MinValue;
            while (First(next, series, from) is { } at)
            {
                long day = CopyOutbox.DayOf(at);
                note.Bind(1, series).Bind(2, day).Run();
                from = day + CopyOutbox.DayMs;
            }
        }
    }

    private static long? First(Statement next, long series, long from)
    {
        next.Bind(1, series).Bind(2, from);
        long? at = next.Row() ? next.Integer(0) : null;
        next.Done();
        return at;
    }

    private static List<long> Series(SqliteConnection connection)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "SELECT id FROM series";
        using SqliteDataReader rows = command.ExecuteReader();
        List<long> all = [];
        while (rows.Read())
        {
            all.Add(rows.GetInt64(0));
        }

        return all;
    }

    private static object? Ask(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        return command.ExecuteScalar();
    }

    private static long Number(SqliteConnection connection, string sql) => (long)Ask(connection, sql)!;

    private static void Run(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }
}
