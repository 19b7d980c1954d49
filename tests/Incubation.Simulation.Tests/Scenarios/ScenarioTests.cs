using Incubation.Simulation.Cabinets;
using Incubation.Simulation.Probes;
using Incubation.Simulation.Scenarios;
using NodaTime;
using Xunit;

namespace Incubation.Simulation.Tests.Scenarios;

public sealed class ScenarioTests
{
    private const double WarningLow = 30.5, WarningHigh = 32.5, DangerHigh = 33.5;

    private static double Extreme(List<ProbeSample> samples, double fromMinute, double toMinute, Func<IEnumerable<double>, double> pick)
        => pick(samples.Where(s => s.MinutesFromStart() >= fromMinute && s.MinutesFromStart() < toMinute).Select(s => s.Value));

    [Fact]
    public void An_opened_door_dips_the_air_and_it_recovers()
    {
        var samples = Some.Run(Some.World(Some.Cabinet()).With(Duration.FromHours(4), new DoorOpened("box", 60)), Duration.FromHours(6));
        var before = Extreme(samples, 230, 240, Enumerable.Min);
        Assert.InRange(Extreme(samples, 240, 243, Enumerable.Min), before - 4, before - 0.8);
        Assert.InRange(Extreme(samples, 340, 360, Enumerable.Min), before - 0.2, before + 0.2);
    }

    [Fact]
    public void An_opened_door_hardly_touches_a_probe_between_eggs()
    {
        var probe = Some.PerfectProbe() with { Place = ProbePlace.BetweenEggs };
        var samples = Some.Run(Some.World(Some.Cabinet(), probe).With(Duration.FromHours(4), new DoorOpened("box", 60)), Duration.FromHours(6));
        Assert.True(Extreme(samples, 230, 240, Enumerable.Min) - Extreme(samples, 240, 300, Enumerable.Min) < 0.5);
    }

    [Fact]
    public void A_stuck_heater_passes_danger_within_the_hour()
    {
        var samples = Some.Run(Some.World(Some.Cabinet()).With(Duration.FromHours(1), new HeaterBecame("box", HeaterFault.StuckOn)), Duration.FromHours(4));
        Assert.InRange(samples.First(s => s.Value > WarningHigh).MinutesFromStart() - 60, 1, 30);
        Assert.InRange(samples.First(s => s.Value > DangerHigh).MinutesFromStart() - 60, 3, 60);
    }

    [Fact]
    public void A_dead_heater_leaves_the_band_within_minutes_to_an_hour()
    {
        var samples = Some.Run(Some.World(Some.Cabinet()).With(Duration.FromHours(1), new HeaterBecame("box", HeaterFault.Dead)), Duration.FromHours(4));
        Assert.InRange(samples.First(s => s.Value < WarningLow).MinutesFromStart() - 60, 5, 60);
    }

    [Fact]
    public void In_a_power_cut_it_cools_with_its_time_constant()
    {
        var spec = Some.Cabinet();
        var world = new World(Some.World(spec).With(Duration.FromHours(1), new PowerBecame("box", false)));
        world.Advance(Some.Start + Duration.FromHours(3));
        var early = world.State("box").Air - 22;
        world.Advance(Some.Start + Duration.FromHours(6));
        var late = world.State("box").Air - 22;
        var measured = 3 * 3600 / Math.Log(early / late);
        // Derivation: for two coupled masses the slow time constant lies between all heat over the wall alone, (Ca+Cm)/u, and the same
        // plus what the still air between tubs and air resists, Cm/k.
        var least = (spec.AirHeatCapacity + spec.MassHeatCapacity) / spec.WallLoss;
        var most = least + (spec.MassHeatCapacity / (spec.AirToMass * spec.StillAirShare));
        Assert.InRange(measured, least, most);
    }

    [Fact]
    public void A_power_cut_of_the_room_silences_probes_on_the_mains_and_cools_the_room()
    {
        var spec = Some.World(Some.Cabinet()) with
        {
            Probes = [Some.PerfectProbe("battery"), Some.PerfectProbe("mains") with { OnMains = true }],
        };
        spec = spec.With(Duration.FromHours(1), new PowerBecame(null, false)).With(Duration.FromHours(2), new PowerBecame(null, true));
        var samples = Some.Run(spec, Duration.FromHours(6));
        Assert.DoesNotContain(samples, s => s.Probe == 1 && s.MinutesFromStart() is >= 60 and < 120);
        Assert.Contains(samples, s => s.Probe == 1 && s.MinutesFromStart() > 121);
        var battery = samples.Where(s => s.Probe == 0).ToList();
        Assert.True(Extreme(battery, 118, 121, Enumerable.Min) < WarningLow);
        Assert.InRange(Extreme(battery, 350, 360, Enumerable.Min), WarningLow, WarningHigh);
    }

    [Fact]
    public void A_probe_that_fell_out_reads_the_room_and_back_in_its_place_the_cabinet()
    {
        var samples = Some.Run(
            Some.World(Some.Cabinet(), room: 20.5)
                .With(Duration.FromHours(1), new ProbeMoved("probe", ProbePlace.Room))
                .With(Duration.FromHours(2), new ProbeMoved("probe", ProbePlace.Air)),
            Duration.FromHours(3));
        Assert.InRange(Extreme(samples, 110, 120, Enumerable.Max), 20.4, 20.6);
        Assert.InRange(Extreme(samples, 170, 180, Enumerable.Min), 31, 32);
    }

    [Fact]
    public void A_fan_that_stands_still_parts_top_and_bottom()
    {
        var spec = Some.World(Some.Cabinet()) with
        {
            Probes = [Some.PerfectProbe("top") with { Height = 1 }, Some.PerfectProbe("bottom") with { Height = -1 }],
        };
        var samples = Some.Run(spec.With(Duration.FromHours(1), new FanBecame("box", false)), Duration.FromHours(2));
        double Gap(double minute) => samples.First(s => s.Probe == 0 && s.MinutesFromStart() > minute).Value
            - samples.First(s => s.Probe == 1 && s.MinutesFromStart() > minute).Value;
        Assert.InRange(Gap(50), 0, 0.4);
        Assert.InRange(Gap(110), 0.6, 1.5);
    }

    [Fact]
    public void With_keeps_the_timeline_in_order_whatever_the_order_of_writing()
    {
        var scenario = Scenario.Empty
            .With(Some.Start + Duration.FromHours(2), new Misted("b", 1))
            .With(Some.Start, new Misted("a", 1))
            .With(Some.Start + Duration.FromHours(2), new Misted("c", 1));
        Assert.Equal(["a", "b", "c"], scenario.Entries.Select(e => ((Misted)e.Happening).Cabinet));
    }

    [Fact]
    public void Do_with_a_name_that_there_is_not_says_which()
    {
        var world = new World(Some.World(Some.Cabinet()));
        Assert.Contains("'hut'", Assert.Throws<ArgumentException>(() => world.Do(new Misted("hut", 1))).Message, StringComparison.Ordinal);
        Assert.Contains("'p9'", Assert.Throws<ArgumentException>(() => world.Do(new ProbeMoved("p9", ProbePlace.Air))).Message, StringComparison.Ordinal);
    }
}
