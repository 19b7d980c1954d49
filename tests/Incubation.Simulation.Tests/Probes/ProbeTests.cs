using CsCheck;
using Incubation.Simulation.Probes;
using Incubation.Simulation.Scenarios;
using NodaTime;
using Xunit;

namespace Incubation.Simulation.Tests.Probes;

public sealed class ProbeTests
{
    [Fact]
    public void The_same_seed_gives_the_same_samples_and_another_seed_others()
    {
        List<ProbeSample> Samples(ulong seed)
            => Some.Run(Some.World(Some.Cabinet(), new ProbeSpec { Key = "a", Cabinet = "box", Humidity = true, LostShare = 0.1 }, seed: seed),
                Duration.FromHours(3));

        Assert.Equal(Samples(11), Samples(11));
        Assert.NotEqual(Samples(11), Samples(12));
    }

    [Fact]
    public void How_often_one_advances_changes_nothing()
        => Gen.Int[1, 5_000].Sample(seconds =>
        {
            var spec = Some.World(Some.Cabinet(), new ProbeSpec { Key = "a", Cabinet = "box" }).With(Duration.FromMinutes(20), new DoorOpened("box", 45));
            var end = spec.Start + Duration.FromHours(2);
            var whole = Some.Run(spec, Duration.FromHours(2));
            var world = new World(spec);
            var pieces = new Collected([]);
            for (var at = spec.Start; at < end; at += Duration.FromSeconds(seconds))
            {
                world.Advance(at, ref pieces);
            }
            world.Advance(end, ref pieces);
            Assert.Equal(whole, pieces.Samples);
        }, iter: 40);

    [Fact]
    public void How_often_a_probe_measures_does_not_change_what_it_sees()
    {
        var spec = Some.World(Some.Cabinet(), Some.PerfectProbe()).With(Duration.FromMinutes(20), new DoorOpened("box", 60));
        var often = Some.Run(spec with { Probes = [Some.PerfectProbe() with { IntervalMs = 1_000 }] }, Duration.FromHours(1));
        var seldom = Some.Run(spec with { Probes = [Some.PerfectProbe() with { IntervalMs = 77_000 }] }, Duration.FromHours(1));
        Assert.All(seldom, late =>
        {
            var near = often.MinBy(s => Math.Abs(s.AtMs - late.AtMs));
            Assert.Equal(near.Value, late.Value, 0.05);
        });
    }

    [Theory]
    [InlineData(0.0625)]
    [InlineData(0.01)]
    [InlineData(0.1)]
    public void Temperatures_come_in_the_steps_of_the_probe(double step)
    {
        var samples = Some.Run(Some.World(Some.Cabinet(), new ProbeSpec { Key = "a", Cabinet = "box", Step = step }), Duration.FromHours(1));
        Assert.All(samples, s => Assert.Equal(0, Math.IEEERemainder(s.Value, step), 1e-9));
        Assert.True(samples.Select(s => s.Value).Distinct().Count() > 1);
    }

    [Fact]
    public void Noise_has_the_spread_that_was_asked_for()
    {
        var noisy = Some.PerfectProbe() with { Noise = 0.2, Offset = 0.5 };
        var quiet = Some.Run(Some.World(Some.Cabinet()), Duration.FromHours(20));
        var samples = Some.Run(Some.World(Some.Cabinet(), noisy), Duration.FromHours(20));
        var errors = samples.Zip(quiet, (n, q) => n.Value - q.Value).ToList();
        var mean = errors.Average();
        Assert.InRange(mean, 0.49, 0.51);
        Assert.InRange(Math.Sqrt(errors.Average(e => (e - mean) * (e - mean))), 0.195, 0.205);
    }

    [Fact]
    public void Lost_measurements_are_the_share_that_was_asked_for()
    {
        var samples = Some.Run(Some.World(Some.Cabinet(), Some.PerfectProbe() with { LostShare = 0.25 }), Duration.FromDays(1));
        Assert.InRange(samples.Count / 17_280.0, 0.735, 0.765);
    }

    [Fact]
    public void A_slow_probe_has_gone_63_percent_of_the_way_after_its_response_time()
    {
        // The room is 10 °C colder: a probe that falls out sees a clean jump.
        var spec = Some.World(Some.Cabinet() with { StartsAt = 32 }, Some.PerfectProbe() with { ResponseSeconds = 120, IntervalMs = 1_000 }) with { StepSeconds = 1 };
        var samples = Some.Run(spec.With(Duration.FromMinutes(10), new ProbeMoved("probe", ProbePlace.Room)), Duration.FromMinutes(30));
        var before = samples.Last(s => s.MinutesFromStart() < 10).Value;
        var after = samples.First(s => s.MinutesFromStart() >= 12).Value;
        Assert.InRange((before - after) / (before - 22), 0.62, 0.645);
    }

    [Fact]
    public void A_fault_lasts_its_time_and_is_over()
    {
        var samples = Some.Run(
            Some.World(Some.Cabinet())
                .With(Duration.FromMinutes(10), new ProbeBecame("probe", ProbeFault.Minus127, 60))
                .With(Duration.FromMinutes(20), new ProbeBecame("probe", ProbeFault.EightyFive, 60))
                .With(Duration.FromMinutes(30), new ProbeBecame("probe", ProbeFault.Silent, 60))
                .With(Duration.FromMinutes(40), new ProbeBecame("probe", ProbeFault.Unreadable, 60)),
            Duration.FromMinutes(50));
        Assert.Equal(12, samples.Count(s => s.Value == -127));
        Assert.Equal(12, samples.Count(s => s.Value == 85));
        Assert.Equal(12, samples.Count(s => double.IsNaN(s.Value)));
        Assert.Equal(600 - 12, samples.Count);
        Assert.InRange(samples[^1].Value, 30, 33);
    }

    [Fact]
    public void A_wrong_clock_is_wrong_by_what_was_said()
    {
        var samples = Some.Run(Some.World(Some.Cabinet(), Some.PerfectProbe() with { ClockAheadMs = -7_200_000 }), Duration.FromMinutes(5));
        Assert.All(samples, s => Assert.Equal(-7_200_000, s.ProbeClockMs - s.AtMs));
    }
}
