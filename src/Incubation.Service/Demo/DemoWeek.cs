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

    /// <summary>How often probes send while the demo lives.</summary>
    public static readonly Duration LiveStep = Duration.FromSeconds(5);

    public static readonly Duration PowerCutLength = Duration.FromMinutes(45), FanStoppedFor = Duration.FromHours(3);

    private DemoWeek(World world, Instant start, DemoStretch stretch) => (World, Start, Stretch) = (world, start, stretch);

    /// <summary>The world at the end of the week, measuring every five seconds from there.</summary>
    public World World { get; }

    /// <summary>When the week began.</summary>
    public Instant Start { get; }

    /// <summary>What the placed probes measured, by five minutes.</summary>
    public IReadOnlyList<Reading> Readings => Stretch.Readings;

    /// <summary>What it was like at the eggs.</summary>
    public DemoTrack Track => Stretch.Track;

    private DemoStretch Stretch { get; }

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
        var stretch = DemoStretch.Run(world, [.. DemoFacility.Incubators.Select(i => i.Key)], now);
        world.MeasureEvery(LiveStep);
        return new DemoWeek(world, start, stretch);
    }

    /// <summary>When Hazel's breaker tripped: in the third night before, at ten past two.</summary>
    public static Instant PowerCut(Instant start)
        => start.InUtc().Date.PlusDays(4).AtMidnight().InUtc().ToInstant() + Duration.FromMinutes(130);

    /// <summary>When Rowan's fan stood still: late in the morning of the second whole day.</summary>
    public static Instant FanStopped(Instant start) => start.InUtc().Date.AtMidnight().InUtc().ToInstant() + Duration.FromHours(59);

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
        var fan = FanStopped(start);
        return scenario
            .With(cut, new PowerBecame(DemoFacility.Hazel, false))
            .With(cut + PowerCutLength, new PowerBecame(DemoFacility.Hazel, true))
            .With(fan, new FanBecame(DemoFacility.Rowan, false))
            .With(fan + FanStoppedFor, new FanBecame(DemoFacility.Rowan, true))
            .With(midnight + Duration.FromDays(5) + Duration.FromHours(3), new ProbeBecame("linden-eggs", ProbeFault.Silent, 2_400));
    }
}
