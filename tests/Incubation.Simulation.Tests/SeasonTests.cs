using Incubation.Simulation.Probes;
using NodaTime;
using Xunit;

namespace Incubation.Simulation.Tests;

public sealed class SeasonTests
{
    private static WorldSpec Season(int cabinets, long intervalMs) => new()
    {
        Start = Some.Start,
        Cabinets = [.. Enumerable.Range(0, cabinets).Select(i => Some.Cabinet($"box-{i}"))],
        Probes =
        [
            .. Enumerable.Range(0, cabinets).SelectMany(i => new ProbeSpec[]
            {
                new() { Key = $"air-{i}", Cabinet = $"box-{i}", Humidity = true, IntervalMs = intervalMs },
                new() { Key = $"eggs-{i}", Cabinet = $"box-{i}", Place = ProbePlace.BetweenEggs, IntervalMs = intervalMs },
            }),
        ],
    };

    [Fact]
    public void A_season_allocates_nothing_as_it_goes()
    {
        var world = new World(Season(3, 10_000));
        var sink = new Counted();
        world.Advance(Some.Start + Duration.FromHours(1), ref sink);
        var before = GC.GetAllocatedBytesForCurrentThread();
        world.Advance(Some.Start + Duration.FromDays(2), ref sink);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
        Assert.InRange(sink.Samples, 3 * 3 * 17_280 - 9, (3 * 3 * 17_280) + 9);
    }

    [Fact]
    public void A_quiet_week_of_thirty_incubators_stays_in_its_band()
    {
        var world = new World(Season(30, 300_000) with { StepSeconds = 15 });
        var sink = new Counted();
        world.Advance(Some.Start + Duration.FromDays(7), ref sink);
        Assert.InRange(sink.Samples, 30 * 3 * 2_000, 30 * 3 * 2_016);
        Assert.InRange(sink.Coldest, 30.5, 32.5);
        Assert.InRange(sink.Warmest, 30.5, 32.5);
    }

    private struct Counted : ISampleSink
    {
        public Counted() { }

        public long Samples { get; private set; }
        public double Coldest { get; private set; } = double.MaxValue;
        public double Warmest { get; private set; } = double.MinValue;

        public void Take(in ProbeSample sample)
        {
            Samples++;
            if (sample.Measured == Measured.Temperature)
            {
                Coldest = Math.Min(Coldest, sample.Value);
                Warmest = Math.Max(Warmest, sample.Value);
            }
        }
    }
}
