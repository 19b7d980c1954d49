using System.Collections.Concurrent;
using Incubation.Core.Readings;
using Incubation.Simulation.Probes;
using Incubation.Simulation.Scenarios;
using NodaTime;
using Xunit;

namespace Incubation.Simulation.Tests.Probes;

public sealed class TroubleTests
{
    private const int FaultDay = 5;

    // The long form simulates a season's worth of facilities; the short one a few weeks.
    private static readonly int Facilities = Environment.GetEnvironmentVariable("INCUBATION_LONG") == "1" ? 24 : 1;

    private static Instant FaultAt => WatchedRoom.Start + Duration.FromDays(FaultDay) + Duration.FromHours(10);

    [Theory]
    [InlineData(10_000)]
    [InlineData(60_000)]
    [InlineData(300_000)]
    public void Healthy_facilities_over_weeks_give_no_trouble(long intervalMs)
    {
        const int Days = 12;
        List<string> words = [];
        for (ulong seed = 1; seed <= (ulong)Facilities; seed++)
        {
            var room = new WatchedRoom(WatchedRoom.Facility(seed, WatchedRoom.Life(Days, seed), intervalMs));
            room.Run(Duration.FromDays(Days));
            words.AddRange(room.Findings.Select(f => $"seed {seed}, {f.FoundAt}, {f.Trouble.Kind} {f.Trouble.Series}: {f.Trouble.Words}"));
        }

        int weeks = Facilities * Days * 9 / 7;
        TestContext.Current.TestOutputHelper?.WriteLine($"{words.Count} false words in {weeks} probe weeks at {intervalMs / 1000} s");
        Assert.Empty(words);
    }

    // Several faults in one simulated week, each in an incubator of its own.
    private static readonly Dictionary<string, (long IntervalMs, Happening[] Faults)> Weeks = new()
    {
        ["one"] = (10_000, [new ProbeBecame("oak-upper", ProbeFault.Stuck), new ProbeMoved("elm-eggs", ProbePlace.Air), new ProbeMoved("fir-tub", ProbePlace.Room), new ProbeBecame("yew-eggs", ProbeFault.Loose)]),
        ["two"] = (10_000, [new ProbeDrifts("oak-middle", -0.5), new ProbeScatters("elm-air", 0.4), new ProbeMoved("fir-tub", ProbePlace.Air), new ProbeMoved("yew-eggs", ProbePlace.Room)]),
        ["three"] = (60_000, [new ProbeScatters("oak-middle", 0.4), new ProbeMoved("elm-eggs", ProbePlace.Room), new ProbeBecame("fir-air", ProbeFault.Stuck)]),
        ["four"] = (10_000, [new ProbeBecame("oak-middle", ProbeFault.Stuck), new ProbeBecame("elm-air", ProbeFault.Loose), new ProbeBecame("fir-tub", ProbeFault.Stuck)]),
        ["five"] = (30_000, [new ProbeDrifts("oak-upper", 0.3), new ProbeBecame("elm-eggs", ProbeFault.Stuck), new ProbeBecame("fir-air", ProbeFault.Loose)]),
        ["six"] = (300_000, [new ProbeScatters("oak-lower", 0.4), new ProbeBecame("elm-air", ProbeFault.Stuck), new ProbeMoved("fir-tub", ProbePlace.Room)]),
    };

    private static readonly ConcurrentDictionary<string, Lazy<WatchedRoom>> Watched = new();

    [Theory]
    [InlineData("one", TroubleKind.Stuck, "oak-upper", 2)]
    [InlineData("four", TroubleKind.Stuck, "oak-middle", 12)]
    [InlineData("four", TroubleKind.Stuck, "fir-tub", 2)]
    [InlineData("five", TroubleKind.Stuck, "elm-eggs", 12)]
    [InlineData("three", TroubleKind.Stuck, "fir-air", 8)]
    [InlineData("six", TroubleKind.Stuck, "elm-air", 16)]
    [InlineData("one", TroubleKind.Jump, "yew-eggs", 2)]
    [InlineData("four", TroubleKind.Jump, "elm-air", 2)]
    [InlineData("five", TroubleKind.Jump, "fir-air", 4)]
    [InlineData("two", TroubleKind.Noise, "elm-air", 5)]
    [InlineData("three", TroubleKind.Noise, "oak-middle", 5)]
    [InlineData("six", TroubleKind.Noise, "oak-lower", 17)]
    [InlineData("two", TroubleKind.Disagrees, "oak-middle", 40)]
    [InlineData("five", TroubleKind.Disagrees, "oak-upper", 60)]
    [InlineData("one", TroubleKind.OutsideTheTub, "fir-tub", 1.5)]
    [InlineData("two", TroubleKind.OutsideTheTub, "yew-eggs", 1.5)]
    [InlineData("three", TroubleKind.OutsideTheTub, "elm-eggs", 1.5)]
    [InlineData("six", TroubleKind.OutsideTheTub, "fir-tub", 1.5)]
    [InlineData("one", TroubleKind.OutsideTheTub, "elm-eggs", 6)]
    [InlineData("two", TroubleKind.OutsideTheTub, "fir-tub", 2)]
    public void A_fault_is_found_within_its_hours_and_nobody_else_in_its_incubator_is_blamed(string week, TroubleKind kind, string probe, double hours)
    {
        WatchedRoom room = Watched.GetOrAdd(week, static name => new Lazy<WatchedRoom>(() => Watch(name))).Value;

        Finding? found = room.Findings.FirstOrDefault(f => f.Trouble.Kind == kind && f.Trouble.Series.Probe == probe);
        TestContext.Current.TestOutputHelper?.WriteLine(found is null ? "not found" : $"after {(found.FoundAt - FaultAt).TotalHours:0.0} h: {found.Trouble.Words}");
        Assert.NotNull(found);
        Assert.InRange((found.FoundAt - FaultAt).TotalHours, 0, hours);
        Assert.InRange(found.Trouble.Evidence.Count, 1, TroubleRules.EvidencePoints + 2);
        Assert.Equal(kind == TroubleKind.Disagrees, found.Trouble.Against is not null);
        string incubator = probe[..4];
        Assert.All(
            room.Findings.Where(f => f.Trouble.Series.Probe.StartsWith(incubator, StringComparison.Ordinal)),
            f => Assert.Equal(probe, f.Trouble.Series.Probe));
    }

    [Fact]
    public void A_probe_that_is_put_back_into_its_tub_or_mended_is_well_again()
    {
        Instant mended = FaultAt + Duration.FromHours(30);
        Scenario scenario = WatchedRoom.Life(9, 3)
            .With(FaultAt, new ProbeMoved("fir-tub", ProbePlace.Room)).With(mended, new ProbeMoved("fir-tub", ProbePlace.Tub))
            .With(FaultAt, new ProbeBecame("oak-upper", ProbeFault.Stuck)).With(mended, new ProbeBecame("oak-upper", ProbeFault.None))
            .With(FaultAt, new ProbeScatters("elm-air", 0.4)).With(mended, new ProbeScatters("elm-air", 0));
        var room = new WatchedRoom(WatchedRoom.Facility(3, scenario, 30_000));

        room.Run(Duration.FromDays(FaultDay) + Duration.FromHours(10 + 30 + 10));

        Assert.True(room.Findings.Count >= 3);
        Assert.All(room.Findings, f => Assert.True(f.ClearedAt <= mended + Duration.FromHours(10), $"{f.Trouble.Kind} of {f.Trouble.Series} cleared at {f.ClearedAt}"));
    }

    private static WatchedRoom Watch(string week)
    {
        (long intervalMs, Happening[] faults) = Weeks[week];
        Scenario scenario = WatchedRoom.Life(FaultDay + 4, 5);
        foreach (Happening fault in faults)
        {
            scenario = scenario.With(FaultAt, fault);
        }

        var room = new WatchedRoom(WatchedRoom.Facility(5, scenario, intervalMs));
        // As long as the slowest of these faults may take.
        room.Run(Duration.FromDays(FaultDay) + Duration.FromHours(10 + (faults.OfType<ProbeDrifts>().Any() ? 60 : 17)));
        return room;
    }
}
