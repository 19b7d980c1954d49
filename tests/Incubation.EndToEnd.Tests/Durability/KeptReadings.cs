using Microsoft.Data.Sqlite;

namespace Incubation.EndToEnd.Tests.Durability;

/// <summary>Reads a readings file with SQLite alone, without a line of the service's code.</summary>
internal static class KeptReadings
{
    /// <summary>Every stored reading: probe and Unix milliseconds. Opening the file recovers its write-ahead log.</summary>
    public static HashSet<(string Probe, long At)> Read(string data)
    {
        using SqliteConnection connection = new(new SqliteConnectionStringBuilder
        {
            DataSource = Path.Combine(data, "readings.db"),
            Mode = SqliteOpenMode.ReadWrite,
            Pooling = false,
        }.ToString());
        connection.Open();
        using SqliteCommand check = connection.CreateCommand();
        check.CommandText = "PRAGMA integrity_check";
        if (check.ExecuteScalar() is not "ok")
        {
            throw new InvalidDataException("The recovered readings file is damaged.");
        }

        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "SELECT s.probe, r.at FROM reading r JOIN series s ON s.id = r.series";
        using SqliteDataReader rows = command.ExecuteReader();
        HashSet<(string, long)> kept = [];
        while (rows.Read())
        {
            kept.Add((rows.GetString(0), rows.GetInt64(1)));
        }

        return kept;
    }

    /// <summary>The acknowledged readings that are not there.</summary>
    public static IReadOnlyList<(string Probe, long At)> Missing(string data, IEnumerable<(string, long)> acknowledged)
    {
        HashSet<(string, long)> kept = Read(data);
        return [.. acknowledged.Where(id => !kept.Contains(id))];
    }
}
