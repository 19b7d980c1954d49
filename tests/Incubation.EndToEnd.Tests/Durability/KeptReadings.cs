using Incubation.EndToEnd.Tests.Instruments;
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

    /// <summary>
    /// Lets the service start on the files and stop again, as it would after the trouble: what waits in the spool file is caught up then.
    /// </summary>
    public static async Task CatchUpAsync(string data, CancellationToken stop)
    {
        await using ServiceProcess service = await ServiceProcess.StartAsync(new ServiceSetup { Data = data }, stop);
        if (await service.TerminateAsync(stop) != 0)
        {
            throw new InvalidDataException($"The service did not stop well after the trouble: {service.Log.Tail}");
        }
    }

    /// <summary>Minutes in which more readings are counted than there are.</summary>
    public static long CountedTwice(string data)
    {
        using SqliteConnection connection = new($"Data Source={Path.Combine(data, "readings.db")};Pooling=False");
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = """
            SELECT count(*) FROM minute m WHERE m.count > (
                SELECT count(*) FROM reading r WHERE r.series = m.series AND r.at >= m.start AND r.at < m.start + 60000)
                AND NOT EXISTS (SELECT 1 FROM sealed d WHERE d.series = m.series)
            """;
        return (long)command.ExecuteScalar()!;
    }

    /// <summary>The acknowledged readings that are not there.</summary>
    public static IReadOnlyList<(string Probe, long At)> Missing(string data, IEnumerable<(string, long)> acknowledged)
    {
        HashSet<(string, long)> kept = Read(data);
        return [.. acknowledged.Where(id => !kept.Contains(id))];
    }
}
