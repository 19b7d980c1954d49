using Incubation.Core.Readings;
using Incubation.Storage.Readings;
using NodaTime;

namespace Incubation.Benchmarks.Readings;

/// <summary>A sealed season on the disk: its bytes, and one probe's 90 days in a thousand buckets, beside DuckDB and InfluxDB with the same.</summary>
internal static class SeasonBench
{
    private const int Runs = 40, Probe = 4;

    private static readonly long From = Season.Start.ToUnixTimeMilliseconds();
    private static readonly long To = From + ReadingsArea.Days * 86_400_000L;

    public static async Task MeasureAsync(Figures figures, string folder, CancellationToken stop)
    {
        string path = Path.Combine(folder, "season.db");
        double readings = ReadingsArea.Probes * ReadingsArea.Days * (double)Season.ReadingsADay;
        await using SqliteReadingStore store = new(new SqliteReadingStoreOptions { Path = path });
        store.Open();
        for (int probe = 0; probe < ReadingsArea.Probes; probe++)
        {
            // Day by day, as it would come: rows never pile up.
            foreach (Reading[] part in Season.Of(probe, ReadingsArea.Days).Chunk(10 * Season.ReadingsADay))
            {
                await store.ImportAsync(part, stop);
                await store.SealAsync(part[^1].At + Duration.FromDays(2), stop);
            }
        }

        await store.DisposeAsync();
        Sizes(figures, path, readings);

        await using SqliteReadingStore again = new(new SqliteReadingStoreOptions { Path = path });
        again.Open();
        using DuckStore duck = new(folder, Season.Together(ReadingsArea.Probes, ReadingsArea.Days));
        figures.AddBeside("readings/duckdb-readings-alone", duck.ReadingBytes / readings, "bytes/reading");
        Read(figures, again, duck);
        await using InfluxServer? influx = await InfluxServer.StartAsync(folder, stop);
        if (influx is null)
        {
            Console.WriteLine("  InfluxDB is not installed (package influxdb): not measured beside it");
        }
        else
        {
            await influx.LoadAsync(Season.Together(ReadingsArea.Probes, ReadingsArea.Days), stop);
            await BesideInfluxAsync(figures, again, influx, stop);
        }
    }

    // The file without its free pages; then, of a copy, without what isn't readings.
    private static void Sizes(Figures figures, string path, double readings)
    {
        string whole = path + "-whole", alone = path + "-alone";
        Change(path, $"VACUUM INTO '{whole}'");
        figures.Add("readings/sealed-with-all-rollups", new FileInfo(whole).Length / readings, "bytes/reading", Bound.AtMost, 3.5);
        Change(whole, $"UPDATE sealed SET minutes = x''; DELETE FROM minute; DELETE FROM hour; DELETE FROM day; VACUUM INTO '{alone}'");
        figures.Add("readings/sealed-in-the-file", new FileInfo(alone).Length / readings, "bytes/reading", Bound.AtMost, 2.0);
    }

    private static void Change(string path, string sql)
    {
        using Microsoft.Data.Sqlite.SqliteConnection connection = new($"Data Source={path};Pooling=False");
        connection.Open();
        using Microsoft.Data.Sqlite.SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }

    private static void Read(Figures figures, SqliteReadingStore store, DuckStore duck)
    {
        SeriesKey series = Season.Series(Probe);
        Random chance = new(5);
        // Another start each time, to the millisecond: nothing falls on a whole minute.
        List<double> any = Timing.Runs(Runs, _ => Ours(store, series, From + chance.Next(1, 7_000_000), To));
        figures.Add("readings/season-in-buckets-any-edges-p50", Figures.Median(any), "ms", Bound.AtMost, 4);
        // Each time a probe that was not looked at lately, so that nothing is unpacked already.
        int probe = 0;
        List<double> cold = Timing.Runs(Runs, _ => Ours(store, Season.Series(probe++ % ReadingsArea.Probes), From + chance.Next(1, 7_000_000), To));
        figures.AddBeside("readings/season-in-buckets-not-looked-at-lately-p50", Figures.Median(cold), "ms");

        long width = (To - From) / ReadingsArea.Buckets / 60_000 * 60_000;
        List<double> ours = Timing.Runs(Runs, run => Ours(store, series, From + run * 60_000, From + run * 60_000 + 990 * width, 990));
        List<double> theirs = Timing.Runs(Runs, run => duck.FromMinutes(Probe, From + run * 60_000, From + run * 60_000 + 990 * width, width));
        figures.AddBeside("readings/season-in-buckets-minute-edges-p50", Figures.Median(ours), "ms");
        figures.AddBeside("readings/duckdb-season-from-minutes-p50", Figures.Median(theirs), "ms");
        figures.Add("readings/season-in-buckets-beside-duckdb", Figures.Median(theirs) / Figures.Median(ours), "ratio", Bound.AtLeast, 3);

        // Buckets of under two minutes can't come from minutes: all 777,600 readings are unpacked and looked at.
        List<double> scan = Timing.Runs(Runs, run => Scan(store, series, From + run));
        List<double> duckScan = Timing.Runs(Runs, run => duck.FromReadings(Probe, From + run, To, (To - From) / ReadingsArea.Buckets));
        figures.AddBeside("readings/duckdb-raw-scan-p50", Figures.Median(duckScan), "ms");
        figures.AddBeside("readings/raw-scan-p50", Figures.Median(scan), "ms");
        figures.Add("readings/raw-scan-beside-duckdb", Figures.Median(scan) / Figures.Median(duckScan), "ratio", Bound.AtMost, 0.7);
    }

    private static async Task BesideInfluxAsync(Figures figures, SqliteReadingStore store, InfluxServer influx, CancellationToken stop)
    {
        SeriesKey series = Season.Series(Probe);
        long width = (To - From) / ReadingsArea.Buckets / 60_000 * 60_000;
        List<double> theirs = [];
        for (int run = 0; run <= Runs / 2; run++)
        {
            long begun = TimeProvider.System.GetTimestamp();
            await influx.FromMinutesAsync(series.Probe, From + run * 60_000, From + run * 60_000 + 990 * width, width, stop);
            theirs.Add(TimeProvider.System.GetElapsedTime(begun).TotalMilliseconds);
        }

        List<double> ours = Timing.Runs(Runs, run => Ours(store, series, From + run * 60_000, From + run * 60_000 + 990 * width, 990));
        figures.AddBeside("readings/influxdb-season-from-minutes-p50", Figures.Median(theirs.Skip(1)), "ms");
        figures.Add("readings/season-in-buckets-beside-influxdb", Figures.Median(theirs.Skip(1)) / Figures.Median(ours), "ratio", Bound.AtLeast, 20);
    }

    private static void Ours(SqliteReadingStore store, SeriesKey series, long from, long to, int buckets = ReadingsArea.Buckets)
    {
        ReadingBuckets got = store.Buckets(series, Instant.FromUnixTimeMilliseconds(from), Instant.FromUnixTimeMilliseconds(to), buckets, Correction.None);
        if (got.Count.Count < buckets - 3)
        {
            throw new InvalidOperationException("Buckets are missing.");
        }
    }

    private static void Scan(SqliteReadingStore store, SeriesKey series, long from)
    {
        long count = store.ScanAll(series, Instant.FromUnixTimeMilliseconds(from), Instant.FromUnixTimeMilliseconds(To), ReadingsArea.Buckets).Count.Sum();
        if (count < ReadingsArea.Days * (long)Season.ReadingsADay - 3)
        {
            throw new InvalidOperationException("Readings are missing.");
        }
    }
}
