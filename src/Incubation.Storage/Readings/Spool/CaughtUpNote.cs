using System.Globalization;
using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings.Spool;

/// <summary>
/// How far a spool file is caught up, noted in the database in the same transaction as its readings: so a crash between the two counts
/// nothing twice, not even readings that only have their arrival.
/// </summary>
internal static class CaughtUpNote
{
    private const string Name = "caught up";

    public static void Write(SqliteConnection connection, long file, long frame)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "INSERT INTO note (name, value) VALUES ($name, $value) ON CONFLICT DO UPDATE SET value = excluded.value";
        command.Parameters.AddWithValue("$name", Name);
        command.Parameters.AddWithValue("$value", string.Create(CultureInfo.InvariantCulture, $"{file} {frame}"));
        command.ExecuteNonQuery();
    }

    /// <summary>Number of the last frame of that file that is in the database; 0 for none.</summary>
    public static long Read(SqliteConnection connection, long file)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "SELECT value FROM note WHERE name = $name";
        command.Parameters.AddWithValue("$name", Name);
        return command.ExecuteScalar() is string value && value.Split(' ') is [string of, string frame]
            && long.TryParse(of, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long noted) && noted == file
            && long.TryParse(frame, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long last)
            ? last
            : 0;
    }
}
