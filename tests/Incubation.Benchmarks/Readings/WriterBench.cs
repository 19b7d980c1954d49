using Incubation.Core.Readings;
using Incubation.Storage.Readings;
using Microsoft.Data.Sqlite;

namespace Incubation.Benchmarks.Readings;

/// <summary>The writer alone, with its rollups, beside bare inserts of the same readings in batches of the same size, both synced at each commit.</summary>
internal static class WriterBench
{
    private const int Probes = 50, Days = 1, Rounds = 3, Batch = 1_000;

    public static async Task MeasureAsync(Figures figures, string folder, CancellationToken stop)
    {
        Reading[] readings = [.. Season.Together(Probes, Days)];
        List<double> ours = [], bare = [];
        for (int round = -1; round < Rounds; round++)
        {
            double one = await OursAsync(Path.Combine(folder, $"ours{round}.db"), readings, stop);
            double other = Bare(Path.Combine(folder, $"bare{round}.db"), readings);
            if (round >= 0)
            {
                ours.Add(one);
                bare.Add(other);
            }
        }

        figures.AddBeside("readings/bare-sqlite-inserts", Figures.Median(bare), "readings/s");
        figures.AddBeside("readings/writer-alone", Figures.Median(ours), "readings/s");
        figures.Add("readings/writer-beside-bare-sqlite", Figures.Median(ours.Zip(bare, (one, other) => one / other)), "ratio", Bound.AtLeast, 0.5);
    }

    private static async Task<double> OursAsync(string path, Reading[] readings, CancellationToken stop)
    {
        await using SqliteReadingStore store = new(new SqliteReadingStoreOptions { Path = path });
        store.Open();
        long begun = TimeProvider.System.GetTimestamp();
        Queue<Task> ahead = new();
        for (int i = 0; i < readings.Length; i += Batch)
        {
            ahead.Enqueue(store.StoreAsync(readings.AsMemory(i, Math.Min(Batch, readings.Length - i)), stop));
            if (ahead.Count > 4)
            {
                await ahead.Dequeue();
            }
        }

        await Task.WhenAll(ahead);
        return readings.Length / TimeProvider.System.GetElapsedTime(begun).TotalSeconds;
    }

    private static double Bare(string path, Reading[] readings)
    {
        using SqliteConnection connection = new($"Data Source={path};Pooling=False");
        connection.Open();
        using SqliteCommand setUp = connection.CreateCommand();
        setUp.CommandText = """
            PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA wal_autocheckpoint=4000; PRAGMA cache_size=-16384;
            CREATE TABLE reading (series INTEGER, at INTEGER, value REAL, arrived INTEGER, marks INTEGER, PRIMARY KEY (series, at)) WITHOUT ROWID;
            """;
        setUp.ExecuteNonQuery();
        using Statement begin = new(connection, "BEGIN IMMEDIATE"), commit = new(connection, "COMMIT");
        using Statement insert = new(connection, "INSERT INTO reading VALUES (?1, ?2, ?3, ?4, ?5)");
        Dictionary<SeriesKey, long> ids = [];
        long begun = TimeProvider.System.GetTimestamp();
        foreach (Reading[] batch in readings.Chunk(Batch))
        {
            begin.Run();
            foreach (Reading reading in batch)
            {
                if (!ids.TryGetValue(reading.Series, out long id))
                {
                    ids.Add(reading.Series, id = ids.Count + 1);
                }

                StoredRow row = StoredRow.Of(in reading);
                insert.Bind(1, id).Bind(2, row.At).Bind(3, row.Value).Bind(4, row.Arrived).Bind(5, (long)row.Marks).Run();
            }

            commit.Run();
        }

        return readings.Length / TimeProvider.System.GetElapsedTime(begun).TotalSeconds;
    }
}
