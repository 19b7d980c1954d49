using System.Globalization;
using Incubation.Core.FirstScreen;
using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>The figures that a run-in is judged by. Buckets are equally wide, so a mean over them is weighted by time, whatever the interval.</summary>
internal static class RunInFigures
{
    private const long BlockMs = 6 * 3_600_000;

    public static RunInSteadiness? Steadiness(RunInSeries series, RunInLimits limits, Instant settled, Instant until)
    {
        ReadingBuckets all = series.Buckets;
        int[] used = Settled(all, settled);
        if (used.Length == 0)
        {
            return null;
        }

        double mean = used.Average(i => all.Mean[i]);
        double deviation = Math.Sqrt(used.Average(i => (all.Mean[i] - mean) * (all.Mean[i] - mean)));
        double? share = limits.Low is null && limits.High is null ? null
            : (double)used.Count(i => !(all.Mean[i] < limits.Low) && !(all.Mean[i] > limits.High)) / used.Length;
        double[] swings = [.. used.GroupBy(i => all.StartMs[i] / 3_600_000).Select(hour => hour.Max(i => all.Max[i]) - hour.Min(i => all.Min[i]))];
        double known = Math.Min(1, used.Length * (double)all.WidthMs / Math.Max(all.WidthMs, (until - settled).TotalMilliseconds));
        return new RunInSteadiness(
            series.Series, series.Where, mean, deviation, used.Min(i => all.Min[i]), used.Max(i => all.Max[i]), share, Robust.Median(swings), known);
    }

    /// <summary>Differences from the mean of all places, over the times at which all were heard.</summary>
    public static IEnumerable<RunInSpot> Spots(RunInSeries[] warm, Instant settled)
    {
        if (warm.Length < 2)
        {
            yield break;
        }

        Dictionary<long, double>[] means = [.. warm.Select(s => Settled(s.Buckets, settled).ToDictionary(i => s.Buckets.StartMs[i], i => s.Buckets.Mean[i]))];
        long[] together = [.. means[0].Keys.Where(ms => means.All(m => m.ContainsKey(ms)))];
        if (together.Length == 0)
        {
            yield break;
        }

        for (int p = 0; p < warm.Length; p++)
        {
            (long Ms, double Value)[] differences = [.. together.Select(ms => (ms, means[p][ms] - means.Average(m => m[ms])))];
            double difference = differences.Average(d => d.Value);
            double[] blocks = [.. differences.GroupBy(d => d.Ms / BlockMs).Select(block => block.Average(d => d.Value))];
            // Neighbouring buckets say nearly the same; six-hour means are taken for independent. 95 %: two standard errors.
            double wandering = blocks.Length < 2 ? 0
                : 2 * Math.Sqrt(blocks.Sum(b => (b - blocks.Average()) * (b - blocks.Average())) / (blocks.Length - 1) / blocks.Length);
            double doubt = Math.Sqrt((wandering * wandering) + (RunInRules.ProbeAccuracy * RunInRules.ProbeAccuracy));
            string name = warm[p].Where.Length > 0 ? warm[p].Where : warm[p].Name;
            string figure = Math.Abs(difference).ToString("0.0#", CultureInfo.InvariantCulture), by = doubt.ToString("0.0#", CultureInfo.InvariantCulture);
            yield return new RunInSpot(
                warm[p].Series.Probe, warm[p].Where, difference, doubt,
                Math.Abs(difference) <= doubt ? $"{name} is as warm as the rest, within {by} °C."
                    : $"{name} is {figure} °C {(difference > 0 ? "warmer" : "cooler")} than the mean of all places, give or take {by} °C.");
        }
    }

    /// <summary>The slowest recovery from a door or a power cut; null when there was none.</summary>
    public static (string Words, bool TooSlow)? Recovery(RunInSeries series, Instant settled)
    {
        ReadingBuckets all = series.Buckets;
        int[] used = Settled(all, settled);
        if (used.Length == 0)
        {
            return null;
        }

        double usual = Robust.Median([.. used.Select(i => all.Mean[i])]);
        long slowest = -1;
        for (int k = 0; k < used.Length; k++)
        {
            if (all.Min[used[k]] > usual - RunInRules.Dip)
            {
                continue;
            }

            long start = all.StartMs[used[k]];
            while (k < used.Length && all.Mean[used[k]] < usual - 0.3)
            {
                k++;
            }

            // Still down at the end: so far at least.
            long end = k < used.Length ? all.StartMs[used[k]] : all.StartMs[used[^1]] + all.WidthMs;
            slowest = Math.Max(slowest, end - start);
        }

        if (slowest < 0)
        {
            return null;
        }

        Duration time = Duration.FromMilliseconds(Math.Max(slowest, all.WidthMs));
        bool tooSlow = time > RunInRules.Recovery;
        return ($"{series.Name} fell by more than {RunInRules.Dip.ToString("0", CultureInfo.InvariantCulture)} °C and took {Spoken.Length(time)} to come back"
            + (tooSlow ? ", which is long." : "."), tooSlow);
    }

    private static int[] Settled(ReadingBuckets all, Instant settled)
    {
        long ms = settled.ToUnixTimeMilliseconds();
        return [.. Enumerable.Range(0, all.StartMs.Count).Where(i => all.StartMs[i] >= ms)];
    }
}
