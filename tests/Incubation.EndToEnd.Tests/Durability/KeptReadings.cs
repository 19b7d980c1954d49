using Incubation.Core.Readings;
using Incubation.EndToEnd.Tests.Instruments;
using Incubation.Storage.Readings;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Incubation.EndToEnd.Tests.Durability;

/// <summary>Reads a readings file with SQLite alone, without a line of the service's code but for sealed days.</summary>
internal static class KeptReadings
{
    /// <summary>Every stored reading: probe and Unix milliseconds. Opening the file recovers its write-ahead log.</summary>
    public static async Task<HashSet<(string Probe, long At)>> ReadAsync(string data)
    {
        HashSet<(string, long)> kept = [];
        await AddSealedAsync(data, ReadRows(data, kept), kept);
        return kept;
    }

    // Returns the series that have sealed days as well.
    private static List<SeriesKey> ReadRows(string data, HashSet<(string, long)> kept)
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
        while (rows.Read())
        {
            kept.Add((rows.GetString(0), rows.GetInt64(1)));
        }

        rows.Close();
        command.CommandText = "SELECT DISTINCT s.probe, s.quantity FROM sealed d JOIN series s ON s.id = d.series";
        List<SeriesKey> packed = [];
        using (SqliteDataReader series = command.ExecuteReader())
        {
            while (series.Read())
            {
                packed.Add(new SeriesKey(series.GetString(0), new Quantity(series.GetString(1))));
            }
        }

        return packed;
    }

    // Sealed days are columns that only the store's own code can unpack.
    private static async Task AddSealedAsync(string data, List<SeriesKey> packed, HashSet<(string, long)> kept)
    {
        if (packed.Count == 0)
        {
            return;
        }

        await using SqliteReadingStore store = new(new SqliteReadingStoreOptions { Path = Path.Combine(data, "readings.db") });
        store.Open();
        foreach (SeriesKey series in packed)
        {
            foreach (Reading reading in store.Read(series, Instant.FromUnixTimeSeconds(0), Instant.FromUtc(2100, 1, 1, 0, 0)))
            {
                kept.Add((series.Probe, reading.At.ToUnixTimeMilliseconds()));
            }
        }
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

    /// <summary>Minutes, hours, days and sealed days in which more readings are counted than there are.</summary>
    public static async Task<long> CountedTwiceAsync(string data)
    {
        string path = Path.Combine(data, "readings.db");
        long twice = 0;
        await using SqliteReadingStore store = new(new SqliteReadingStoreOptions { Path = path });
        store.Open();
        await using SqliteConnection connection = new($"Data Source={path};Pooling=False");
        await connection.OpenAsync();
        foreach ((string table, long length) in Counts)
        {
            foreach (IGrouping<SeriesKey, (SeriesKey Key, long Start, long Count)> series in ReadCounts(connection, table).ToLookup(row => row.Key))
            {
                Dictionary<long, int> there = store.Read(series.Key, Instant.FromUnixTimeSeconds(0), Instant.FromUtc(2100, 1, 1, 0, 0))
                    .CountBy(reading => reading.At.ToUnixTimeMilliseconds() / length).ToDictionary();
                twice += series.Count(row => row.Count > there.GetValueOrDefault(row.Start / length));
            }
        }

        return twice;
    }

    private static readonly (string Table, long Length)[] Counts =
        [("minute", 60_000), ("hour", 3_600_000), ("day", 86_400_000), ("sealed", 86_400_000)];

    private static List<(SeriesKey Key, long Start, long Count)> ReadCounts(SqliteConnection connection, string table)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = $"SELECT s.probe, s.quantity, t.{(table == "sealed" ? "day" : "start")}, t.count FROM {table} t JOIN series s ON s.id = t.series";
        using SqliteDataReader rows = command.ExecuteReader();
        List<(SeriesKey, long, long)> counts = [];
        while (rows.Read())
        {
            counts.Add((new SeriesKey(rows.GetString(0), new Quantity(rows.GetString(1))), rows.GetInt64(2), rows.GetInt64(3)));
        }

        return counts;
    }

    /// <summary>The acknowledged readings that are not there.</summary>
    public static async Task<IReadOnlyList<(string Probe, long At)>> MissingAsync(string data, IEnumerable<(string, long)> acknowledged)
    {
        HashSet<(string, long)> kept = await ReadAsync(data);
        return [.. acknowledged.Where(id => !kept.Contains(id))];
    }
}
