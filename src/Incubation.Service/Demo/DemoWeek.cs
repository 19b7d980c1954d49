using Incubation.Core.Readings;
using Incubation.Simulation;
using Incubation.Simulation.Probes;
using Incubation.Simulation.Scenarios;
using NodaTime;

namespace Incubation.Service.Demo;

/// <summary>The week before the demo starts: simulated, and then the live world goes on from its end.</summary>
internal sealed class DemoWeek
{
    public static readonly Duration Length = Duration.FromDays(7);
    private static readonly Duration HistoryStep = Duration.FromMinutes(5);

    /// <summary>How often probes send while the demo lives.</summary>
    public static readonly Duration LiveStep = Duration.FromSeconds(5);

    private DemoWeek(World world, IReadOnlyList<Reading> readings)
    {
        World = world;
        Readings = readings;
    }

    /// <summary>The world at the end of the week, measuring every five seconds from there.</summary>
    public World World { get; }

    /// <summary>What the placed probes measured, by five minutes.</summary>
    public IReadOnlyList<Reading> Readings { get; }

    /// <summary>Simulates the week that ends at <paramref name="now"/>.</summary>
    public static DemoWeek Simulate(Instant now, long seed)
    {
        // On whole seconds, so that the inner grid and the probes' times look like somebody's.
        var start = Instant.FromUnixTimeSeconds((now - Length).ToUnixTimeSeconds());
        var world = new World(new WorldSpec
        {
            Seed = (ulong)seed,
            Start = start,
            StepSeconds = 2,
            Cabinets = DemoFacility.Cabinets,
            Probes = [.. DemoFacility.Probes.Select(p => p.Spec)],
            Scenario = Events(start, seed),
        });
        world.MeasureEvery(HistoryStep);
        var sink = new Kept(DemoFacility.Probes, now, new List<Reading>(40_000));
        world.Advance(now, ref sink);
        world.MeasureEvery(LiveStep);
        return new DemoWeek(world, sink.Readings);
    }

    /// <summary>When Hazel's breaker tripped: in the third night before, at ten past two.</summary>
    public static Instant PowerCut(Instant start)
        => start.InUtc().Date.PlusDays(4).AtMidnight().InUtc().ToInstant() + Duration.FromMinutes(130);

    private static Scenario Events(Instant start, long seed)
    {
        var chance = new Random(unchecked((int)seed));
        var scenario = Scenario.Empty;
        var midnight = start.InUtc().Date.AtMidnight().InUtc().ToInstant();
        // From the first whole day: what lies before the start would all happen at once at the start.
        for (var day = 1; day <= Length.Days; day++)
        {
            foreach (var (key, _) in DemoFacility.Incubators)
            {
                // Morning and evening rounds: a look through the door, short enough for the eggs.
                foreach (var hour in new[] { 7.5, 18.5 })
                {
                    var at = midnight + Duration.FromDays(day) + Duration.FromHours(hour) + Duration.FromSeconds(chance.Next(0, 4_000));
                    scenario = scenario.With(at, new DoorOpened(key, chance.Next(10, 26)));
                }
            }
            if (day % 2 == 1)
            {
                var at = midnight + Duration.FromDays(day) + Duration.FromHours(19);
                scenario = scenario.With(at, new Misted(DemoFacility.Hazel, 2)).With(at, new Misted(DemoFacility.Rowan, 2));
            }
        }
        var cut = PowerCut(start);
        var fan = midnight + Duration.FromDays(2) + Duration.FromHours(11);
        return scenario
            .With(cut, new PowerBecame(DemoFacility.Hazel, false))
            .With(cut + Duration.FromMinutes(45), new PowerBecame(DemoFacility.Hazel, true))
            .With(fan, new FanBecame(DemoFacility.Rowan, false))
            .With(fan + Duration.FromHours(3), new FanBecame(DemoFacility.Rowan, true))
            .With(midnight + Duration.FromDays(5) + Duration.FromHours(3), new ProbeBecame("linden-eggs", ProbeFault.Silent, 2_400));
    }

    private readonly struct Kept(IReadOnlyList<DemoProbe> probes, Instant until, List<Reading> readings) : ISampleSink
    {
        public List<Reading> Readings => readings;

        public void Take(in ProbeSample sample)
        {
            var at = Instant.FromUnixTimeMilliseconds(sample.AtMs);
            var probe = probes[sample.Probe];
            if (at >= until || probe.Where is null || double.IsNaN(sample.Value))
            {
                return;
            }
            var quantity = sample.Measured == Measured.Temperature ? Quantity.Temperature : Quantity.Humidity;
            var marks = (probe.Spec.Payload == PayloadStyle.JsonWithTime ? ReadingMarks.None : ReadingMarks.ArrivalTime)
                | (sample.Measured == Measured.Humidity && sample.Value >= 100 ? ReadingMarks.Saturated : ReadingMarks.None);
            readings.Add(new Reading(new SeriesKey(probe.Spec.Key, quantity), sample.Value, at, at, marks));
        }
    }
}
