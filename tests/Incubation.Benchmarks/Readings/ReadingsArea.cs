using System.Globalization;

namespace Incubation.Benchmarks.Readings;

/// <summary>The readings store: how fast it writes and reads, and what it takes on the disk, beside SQLite bare, DuckDB and InfluxDB.</summary>
internal static class ReadingsArea
{
    /// <summary>Probes of the season that all three stores hold.</summary>
    public const int Probes = 10;

    public const int Days = 90;
    public const int Buckets = 1_000;

    public static async Task MeasureAsync(Figures figures, CancellationToken stop)
    {
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"readings: {Environment.ProcessorCount} cores; {Probes} probes, {Days} days, every {Season.StepMs / 1000} s"));
        string folder = Directory.CreateTempSubdirectory("incubation-bench-").FullName;
        try
        {
            await WriterBench.MeasureAsync(figures, folder, stop);
            ColumnsBench.Measure(figures);
            await SeasonBench.MeasureAsync(figures, folder, stop);
            await DiskDayBench.MeasureAsync(figures, folder, stop);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
