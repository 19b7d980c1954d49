using CsCheck;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Readings;

public sealed class RunInJudgeTests
{
    private static readonly Instant From = Instant.FromUtc(2026, 4, 1, 8, 0);
    private static readonly RunInLimits Band = new(30.5, 32.5);

    [Fact]
    public void Judge_steady_and_even_for_two_days_is_ready()
    {
        RunInJudgement judged = Judge(48, Probe("top", _ => 31.7), Probe("bottom", h => 31.4 + (0.1 * Math.Sin(h))));

        Assert.Equal(RunInVerdict.Ready, judged.Verdict);
        Assert.Equal(["top", "bottom"], judged.Spots.Select(s => s.Probe));
        Assert.Equal(0.15, judged.Spots[0].Difference, 0.02);
        Assert.All(judged.Steadiness, s => Assert.Equal(1, s.InBandShare));
        Assert.Empty(judged.Findings);
    }

    [Fact]
    public void Judge_before_its_time_is_too_early_and_says_what_speaks_against_it_so_far()
    {
        RunInJudgement judged = Judge(30, Probe("top", _ => 33.5));

        Assert.Equal(RunInVerdict.TooEarly, judged.Verdict);
        Assert.Contains("30 hours of 48", judged.Words, StringComparison.Ordinal);
        Assert.Contains("in band only 0 %", judged.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Judge_without_any_reading_is_not_ready()
        => Assert.Contains("No probe in it", Judge(48).Words, StringComparison.Ordinal);

    [Fact]
    public void Judge_of_a_hot_top_shelf_is_not_ready_and_names_both_places()
    {
        RunInJudgement judged = Judge(48, Probe("top", _ => 32.3), Probe("bottom", _ => 30.9));

        Assert.Equal(RunInVerdict.NotReady, judged.Verdict);
        Assert.Contains("shelf of top is 1.4 °C warmer than shelf of bottom", judged.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Judge_leaves_the_warming_up_out_and_a_probe_that_is_silent_half_the_time_in()
    {
        Assert.Equal(RunInVerdict.Ready, Judge(48, Probe("top", h => h < 4 ? 22 + (2.4 * h) : 31.5)).Verdict);
        RunInJudgement judged = Judge(48, Probe("top", h => h % 2 < 1 ? 31.5 : double.NaN));
        Assert.Equal(RunInVerdict.NotReady, judged.Verdict);
        Assert.Contains(judged.Findings, f => f.Contains("heard only", StringComparison.Ordinal));
    }

    [Fact]
    public void Judge_times_the_way_back_after_a_door_and_a_slow_one_speaks_against_it()
    {
        RunInJudgement quick = Judge(48, Probe("top", h => h is >= 20 and < 20.25 ? 29.9 : 31.5));
        RunInJudgement slow = Judge(48, Probe("top", h => h is >= 20 and < 21 ? 30.4 : 31.5));

        Assert.Equal(RunInVerdict.Ready, quick.Verdict);
        Assert.Contains(quick.Findings, f => f.Contains("took 15 minutes to come back", StringComparison.Ordinal));
        Assert.Equal(RunInVerdict.NotReady, slow.Verdict);
        Assert.Contains(slow.Findings, f => f.Contains("1 hour", StringComparison.Ordinal));
    }

    [Fact]
    public void Spots_of_any_probes_differ_by_nothing_on_average_and_an_offset_common_to_all_changes_nothing()
        => Gen.Double[-0.9, 0.9].Array[2, 5].Select(Gen.Double[-1, 1]).Sample((offsets, common) =>
        {
            RunInSeries[] Of(double more) => [.. offsets.Select((o, i) => Probe($"p{i}", h => 31.5 + o + more + (0.2 * Math.Sin(h + i))))];
            RunInJudgement one = Judge(48, Of(0)), other = Judge(48, Of(common));
            Assert.Equal(0, one.Spots.Sum(s => s.Difference), 1e-9);
            foreach (RunInSpot spot in one.Spots)
            {
                Assert.Equal(spot.Difference, other.Spots.Single(s => s.Probe == spot.Probe).Difference, 1e-9);
            }
        }, iter: 20);

    private static RunInJudgement Judge(double hours, params RunInSeries[] series)
        => RunInJudge.Judge([.. series.Select(s => Cut(s, hours))], q => q == Quantity.Temperature ? Band : default, From, From + Duration.FromHours(hours));

    private static RunInSeries Cut(RunInSeries series, double hours)
    {
        long end = (From + Duration.FromHours(hours)).ToUnixTimeMilliseconds();
        int n = series.Buckets.StartMs.Count(ms => ms < end);
        ReadingBuckets b = series.Buckets;
        return series with { Buckets = new ReadingBuckets(b.WidthMs, [.. b.StartMs.Take(n)], [.. b.Min.Take(n)], [.. b.Mean.Take(n)], [.. b.Max.Take(n)], [.. b.Count.Take(n)]) };
    }

    private static RunInSeries Probe(string name, Func<double, double> celsius)
    {
        (long Ms, double Value)[] known =
        [
            .. Enumerable.Range(0, 48 * 12).Select(i => ((From + (RunInRules.Bucket * i)).ToUnixTimeMilliseconds(), celsius(i / 12.0))).Where(p => !double.IsNaN(p.Item2)),
        ];
        double[] values = [.. known.Select(p => p.Value)];
        return new RunInSeries(
            new SeriesKey(name, Quantity.Temperature), name, $"shelf of {name}",
            new ReadingBuckets(300_000, [.. known.Select(p => p.Ms)], values, values, values, [.. values.Select(_ => 30)]));
    }
}
