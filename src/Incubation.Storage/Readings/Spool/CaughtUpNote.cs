using System.Globalization;
using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings.Spool;

/// <summary>
/// How far a spool file is caught up, noted in the database in the same transaction as its readings: so a crash between the two counts
/// nothing twice, not even readings that only have their arrival. The table is made when it is first needed.
/// </summary>
internal static class CaughtUpNote
{
    public static void Write(SqliteConnection connection, long file, long frame) => Run(connection, string.Create(CultureInfo.InvariantCulture, $"""
        CREATE TABLE IF NOT EXISTS caught_up (file INTEGER PRIMARY KEY, frame INTEGER NOT NULL) STRICT;
        DELETE FROM caught_up WHERE file <> {file};
        INSERT INTO caught_up (file, frame) VALUES ({file}, {frame}) ON CONFLICT DO UPDATE SET frame = excluded.frame;
        """));

    /// <summary>Number of the last frame that is in the database; 0 for none.</summary>
    public static long Read(SqliteConnection connection, long file)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "SELECT count(*) FROM sqlite_schema WHERE name = 'caught_up'";
        if (command.ExecuteScalar() is 0L)
        {
            return 0;
        }

        command.CommandText = string.Create(CultureInfo.InvariantCulture, $"SELECT frame FROM caught_up WHERE file = {file}");
        return command.ExecuteScalar() as long? ?? 0;
    }

    private static void Run(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }
}
