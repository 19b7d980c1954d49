using System.Globalization;
using Incubation.Core.Readings;
using Incubation.Storage.Readings;
using NodaTime;

namespace Incubation.Benchmarks.Readings;

/// <summary>
/// What 50 probes at 10 s write to the disk in a day, in real time: a stretch of minutes with the store alone in this process, by the kernel's own
/// count (<c>write_bytes</c> of <c>/proc/self/io</c>), and what closing, checkpointing and sealing of its readings add.
/// </summary>
internal static class DiskDayBench
{
    private const int Probes = 50;
    private static readonly TimeSpan Stretch = TimeSpan.FromMinutes(4);

    public static async Task MeasureAsync(Figures figures, string folder, CancellationToken stop)
    {
        await using SqliteReadingStore store = new(new SqliteReadingStoreOptions { Path = Path.Combine(folder, "day.db") });
        store.Open();
        // The stock of commits at once is for bursts; a day has one.
        List<Task> acknowledged = [];
        long ahead = 0;
        for (int i = 0; i < 400; i++)
        {
            await store.StoreAsync(new[] { Reading(i % Probes, ahead++) }, stop);
        }

        long before = Written();
        long begun = TimeProvider.System.GetTimestamp();
        using PeriodicTimer timer = new(TimeSpan.FromSeconds(10.0 / Probes), TimeProvider.System);
        while (TimeProvider.System.GetElapsedTime(begun) < Stretch && await timer.WaitForNextTickAsync(stop))
        {
            acknowledged.Add(store.StoreAsync(new[] { Reading((int)(ahead % Probes), ahead) }, stop));
            ahead++;
        }

        await Task.WhenAll(acknowledged);
        double share = TimeProvider.System.GetElapsedTime(begun) / TimeSpan.FromDays(1);
        await store.SealAsync(Season.Start + Duration.FromDays(3), stop);
        await store.DisposeAsync();
        double gigabytes = (Written() - before) / share / 1e9;
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"  disk: {acknowledged.Count} readings over {Stretch.TotalMinutes:0} minutes, sealing and closing included, times {1 / share:0} for a day"));
        figures.Add("readings/written-a-day-by-50-probes", gigabytes, "GB", Bound.AtMost, 2);
    }

    private static Reading Reading(int probe, long number)
    {
        Instant at = Season.Start + Duration.FromMilliseconds(number * 10_000L / Probes);
        return new Reading(Season.Series(probe), 31 + number % 37 * 0.01, at, at + Duration.FromMilliseconds(4), ReadingMarks.None);
    }

    private static long Written() => long.Parse(
        File.ReadLines("/proc/self/io").Single(line => line.StartsWith("write_bytes:", StringComparison.Ordinal)).Split(':')[1], CultureInfo.InvariantCulture);
}
