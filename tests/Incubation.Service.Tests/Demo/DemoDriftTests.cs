using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Service.Demo;
using Incubation.Simulation.Probes;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Demo;

public sealed class DemoDriftTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 3, 4, 5);
    private static readonly Band Juniper = DemoFacility.Bands.Single(b => b.Incubator == DemoFacility.Juniper && b.Quantity == Quantity.Temperature);

    /// <summary>Runs the living demo second by second; the answer comes at a given second, or never.</summary>
    private static List<ProbeSample> Live(long seed, Duration time, double answeredAfter = double.MaxValue, Instant? start = null)
    {
        var world = DemoWeek.Simulate(start ?? Now, seed).World;
        var director = new DemoDirector(world.Now, new DemoSettings { Seed = seed });
        var sink = new Kept([]);
        var begin = world.Now;
        for (var at = begin; at < begin + time; at += Duration.FromSeconds(2))
        {
            foreach (var happening in director.Due(at, (at - begin).TotalSeconds >= answeredAfter))
            {
                world.Do(happening);
            }
            world.Advance(at, ref sink);
        }
        return [.. sink.Samples.Select(s => s with { AtMs = s.AtMs - begin.ToUnixTimeMilliseconds() })];
    }

    private static List<ProbeSample> JuniperAir(List<ProbeSample> samples)
        => [.. samples.Where(s => s.Measured == Measured.Temperature && DemoFacility.Probes[s.Probe].Spec.Key == "juniper-air")];

    /// <summary>The second at which a value has stayed beyond a limit for the on-delay, or null.</summary>
    private static double? RaisedAt(List<ProbeSample> samples, double limit, Duration onDelay)
    {
        long? since = null;
        foreach (var sample in samples)
        {
            since = sample.Value > limit ? since ?? sample.AtMs : null;
            if (sample.AtMs - since >= (long)onDelay.TotalMilliseconds)
            {
                return sample.AtMs / 1000.0;
            }
        }
        return null;
    }

    [Theory]
    [InlineData(1, 3)]
    [InlineData(2, 9)]
    [InlineData(20_261_125, 15)]
    [InlineData(77, 21)]
    public void The_drift_raises_an_alarm_within_two_minutes_by_itself(long seed, int hour)
    {
        var samples = JuniperAir(Live(seed, Duration.FromMinutes(4), start: Instant.FromUtc(2026, 11, 25, hour, 0)));
        Assert.InRange(RaisedAt(samples, Juniper.WarningHigh!.Value, Juniper.WarningOnDelay) ?? double.NaN, 20, 115);
        // Not before the drift: the facility starts calm.
        Assert.All(samples.Where(s => s.AtMs < 20_000), s => Assert.InRange(s.Value, Juniper.WarningLow!.Value, Juniper.WarningHigh!.Value));
    }

    [Fact]
    public void Unanswered_it_passes_danger_and_the_cut_out_holds_it_and_in_the_end_it_is_mended()
    {
        var samples = JuniperAir(Live(1, Duration.FromMinutes(50)));
        Assert.NotNull(RaisedAt(samples, Juniper.DangerHigh!.Value, Juniper.DangerOnDelay));
        Assert.InRange(samples.Max(s => s.Value), 35, 36.6);
        Assert.All(samples.Where(s => s.AtMs > 45 * 60_000), s => Assert.InRange(s.Value, Juniper.WarningLow!.Value, Juniper.WarningHigh!.Value));
    }

    [Fact]
    public void Answered_it_is_back_in_its_band_within_the_quarter_of_an_hour()
    {
        var samples = JuniperAir(Live(1, Duration.FromMinutes(30), answeredAfter: 150));
        Assert.All(samples.Where(s => s.AtMs > 15 * 60_000), s => Assert.InRange(s.Value, Juniper.WarningLow!.Value, Juniper.WarningHigh!.Value));
    }

    [Fact]
    public void For_hours_nothing_else_alarms_and_something_unreadable_and_a_new_probe_come_by()
    {
        var samples = Live(1, Duration.FromHours(2.8), answeredAfter: 150);
        Assert.Contains(samples, s => double.IsNaN(s.Value) && DemoFacility.Probes[s.Probe].Spec.Key == DemoFacility.LooseProbe);
        Assert.Contains(samples, s => DemoFacility.Probes[s.Probe].Spec.Key == DemoFacility.NotYetPlaced && s.AtMs < 30_000);
        foreach (var band in DemoFacility.Bands.Where(b => b.Incubator != DemoFacility.Juniper))
        {
            foreach (var probe in DemoFacility.Probes.Where(p => p.Spec.Cabinet == band.Incubator && p.Where is not null))
            {
                var own = samples.Where(s => DemoFacility.Probes[s.Probe] == probe && (s.Measured == Measured.Temperature) == (band.Quantity == Quantity.Temperature)
                    && s.Value is not (-127 or double.NaN)).ToList();
                Assert.Null(RaisedAt(own, band.WarningHigh ?? 200, band.WarningOnDelay));
                Assert.Null(RaisedAt(own, band.DangerHigh ?? 200, band.DangerOnDelay));
                var mirrored = own.Select(s => s with { Value = -s.Value }).ToList();
                Assert.Null(RaisedAt(mirrored, -band.WarningLow!.Value, band.WarningOnDelay));
                Assert.Null(RaisedAt(mirrored, -band.DangerLow!.Value, band.DangerOnDelay));
            }
        }
    }

    private readonly struct Kept(List<ProbeSample> samples) : ISampleSink
    {
        public List<ProbeSample> Samples => samples;

        public void Take(in ProbeSample sample) => samples.Add(sample);
    }
}
