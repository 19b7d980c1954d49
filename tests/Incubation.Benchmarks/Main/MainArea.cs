using System.Globalization;

namespace Incubation.Benchmarks.Main;

/// <summary>What the night rests on: how many readings a second are safe, and how soon someone hears of a drift.</summary>
internal static class MainArea
{
    private const double LeastRatio = 0.8;
    private const double LeastRatioOfMany = 0.6;
    private const double MostMilliseconds = 50;

    public static async Task MeasureAsync(Figures figures, CancellationToken stop)
    {
        Console.WriteLine($"main: {Environment.ProcessorCount} cores; window {ThroughputBench.Window}, "
            + $"{ThroughputBench.Rounds} rounds of {ThroughputBench.Round.TotalSeconds:0} s each, in turn");
        await SpeedAsync(figures, 50, "", LeastRatio, stop);
        await SpeedAsync(figures, 500, "-500-probes", LeastRatioOfMany, stop);
        IReadOnlyList<double> waits = await LatencyBench.MeasureAsync(stop);
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"  {waits.Count} alarms, on-delay {LatencyBench.OnDelaySeconds} s: least {waits.Min():0.0} ms, greatest {waits.Max():0.0} ms over it"));
        // The first alarm after a start meets cold code, and it is the one that counts at night: shown apart, and part of the p99 all the same.
        Console.WriteLine("  in tens, median of each, from the first: " + string.Join(", ", waits.Chunk(10)
            .Select(ten => Figures.Median(ten).ToString("0", CultureInfo.InvariantCulture))) + " ms; the first alone "
            + waits[0].ToString("0", CultureInfo.InvariantCulture) + " ms");
        figures.AddBeside("main/publish-to-webhook-over-on-delay-p50", Figures.Quantile(waits, 0.5), "ms");
        figures.Add("main/publish-to-webhook-over-on-delay-p99", Figures.Quantile(waits, 0.99), "ms", Bound.AtMost, MostMilliseconds);
    }

    private static async Task SpeedAsync(Figures figures, int publishers, string suffix, double least, CancellationToken stop)
    {
        ThroughputBench.Outcome speed = await ThroughputBench.MeasureAsync(publishers, stop);
        for (int round = 0; round < speed.Ours.Count; round++)
        {
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"  {publishers} probes, round {round + 1}: service {speed.Ours[round]:0}/s, mosquitto {speed.Theirs[round]:0}/s, ratio {speed.Ours[round] / speed.Theirs[round]:0.00}"));
        }

        figures.AddBeside($"main/mosquitto-forwarded-in-memory{suffix}", Figures.Median(speed.Theirs), "readings/s");
        figures.AddBeside($"main/readings-committed-before-puback{suffix}", Figures.Median(speed.Ours), "readings/s");
        figures.Add($"main/readings-committed-beside-mosquitto{suffix}", Figures.Median(speed.Ours.Zip(speed.Theirs, (ours, theirs) => ours / theirs)),
            "ratio", Bound.AtLeast, least);
    }
}
