using Incubation.Core.Candling;
using Incubation.Core.Clutches;
using Incubation.Simulation.Embryos;
using NodaTime;
using Xunit;

namespace Incubation.Simulation.Tests.Embryos;

public sealed class KeeperTests
{
    private static readonly KeeperSpec Faultless = new()
    {
        Skips = 0,
        MisreadsGlow = 0,
        MisreadsVeins = 0,
        Slips = 0,
        ScaleError = 0,
        WaitsForMovement = 1,
    };

    [Fact]
    public void Vessels_go_from_a_spot_to_a_full_net_and_in_the_end_no_glow_can_be_noted()
    {
        var brood = Broods.Of(Broods.Sturdy, 12, 1, new TraitCross(2, 0));
        var keeper = new Keeper(Faultless, brood, Some.Start, 1);
        var seen = new List<IReadOnlyList<Look>>();
        var at = Some.Start;
        foreach (var day in new[] { 1, 8, 24, 57 })
        {
            at = brood.Live(31.5, day - (at - Some.Start).TotalDays, from: at);
            seen.Add(keeper.Candle(at));
        }
        Assert.All(seen[0], look => Assert.Equal(Veins.Spot, look.Veins));
        Assert.All(seen[1], look => Assert.Equal(Veins.Spreading, look.Veins));
        Assert.All(seen[2], look => Assert.Equal((Veins.FullNet, true), (look.Veins!.Value, look.MovementSeen!.Value)));
        Assert.All(seen[0], look => Assert.NotEqual(Glow.Greenish, look.Glow));
        Assert.InRange(seen[2].Count(look => look.Glow == Glow.Greenish), 9, 12);
        Assert.All(seen[3], look => Assert.Null(look.Glow));
        Assert.All(seen[3], look => Assert.Contains("dented", look.Shell));
    }

    [Fact]
    public void A_dead_embryo_fades_and_ends_as_a_ring_and_is_never_seen_to_move()
    {
        var brood = Broods.Of(Broods.Sturdy, 5);
        var keeper = new Keeper(Faultless, brood, Some.Start, 1);
        var at = brood.Live(31.5, 20);
        brood.Live(new EggClimate(45, 94), at, Duration.FromMinutes(10));
        var next = brood.Live(31.5, 2, from: at);
        Assert.All(keeper.Candle(next), look => Assert.Equal((Veins.Fading, false), (look.Veins!.Value, look.MovementSeen!.Value)));
        var later = brood.Live(31.5, 18, from: next);
        Assert.All(keeper.Candle(later), look => Assert.Equal((Veins.Ring, Glow.OffWhite), (look.Veins!.Value, look.Glow!.Value)));
        Assert.All(keeper.Candle(later), look => Assert.Contains("mould", look.Shell));
    }

    [Fact]
    public void Shells_are_smooth_until_late_unless_the_egg_dries()
    {
        var (moist, dry) = (Broods.Of(Broods.Sturdy, 10), Broods.Of(Broods.Sturdy, 10));
        var at = moist.Live(31.5, 30);
        dry.Live(31.5, 30, 84);
        Assert.All(new Keeper(Faultless, moist, Some.Start, 1).Candle(at), look => Assert.Empty(look.Shell));
        Assert.All(new Keeper(Faultless, dry, Some.Start, 1).Candle(at), look => Assert.Equal(["dented"], look.Shell));
    }

    [Fact]
    public void Shell_findings_are_the_words_of_the_house()
    {
        var brood = Broods.Of(EmbryoNatures.BallPython, 300);
        var at = brood.Live(31.5, 57.5);
        Assert.All(new Keeper(Faultless, brood, Some.Start, 1).Candle(at).SelectMany(look => look.Shell),
            key => Assert.Contains(key, CandlingWords.ShellTerms.Select(term => term.Key)));
    }

    [Fact]
    public void Errors_come_about_as_often_as_stated_and_most_slips_of_the_scale_are_corrected()
    {
        var brood = Broods.Of(Broods.Sturdy, 4_000, 1, new TraitCross(0, 0));
        var at = Some.Start + Duration.FromDays(24);
        brood.Live(new EggClimate(31.5, 94), Some.Start, Duration.FromDays(24));
        var spec = new KeeperSpec { Skips = 0.1, MisreadsVeins = 0.2, Slips = 0.1, ScaleError = 0 };
        var looks = new Keeper(spec, brood, Some.Start, 4).Candle(at);
        var first = looks.Where(look => look.Corrects is null).ToList();
        var corrections = looks.Where(look => look.Corrects is not null).ToList();
        Assert.Equal(0.9, first.Count / 4_000.0, 0.03);
        // Only one step less is possible from a full net.
        Assert.Equal(0.1, first.Count(look => look.Veins == Veins.Spreading) / (double)first.Count, 0.03);
        Assert.InRange(corrections.Count / (double)first.Count, 0.04, 0.09);
        Assert.All(corrections, look =>
        {
            var wrong = looks[look.Corrects!.Value];
            Assert.Equal(wrong.Egg, look.Egg);
            Assert.True(look.At > wrong.At);
            Assert.NotEqual(wrong.MassGrams, look.MassGrams);
            Assert.Equal(brood.Eggs[look.Egg - 1].Grams, look.MassGrams!.Value, 0.051);
        });
    }

    [Fact]
    public void Every_egg_ends_with_one_outcome_and_a_pip_is_found_before_the_young_is_out()
    {
        var brood = Broods.Of(EmbryoNatures.BallPython, 120);
        var keeper = new Keeper(new KeeperSpec(), brood, Some.Start, 1);
        var found = new List<Found>();
        var at = Some.Start;
        while (!brood.IsOver)
        {
            at = brood.Live(31.5, 0.5, from: at);
            found.AddRange(keeper.GoRound(at));
        }
        found.AddRange(keeper.Close(at));
        Assert.Empty(keeper.GoRound(at));
        Assert.Empty(keeper.Close(at));
        var ends = found.Where(f => f.Kind != OutcomeKind.FirstPip).ToList();
        Assert.Equal(Enumerable.Range(1, 120), ends.Select(f => f.Egg).Order());
        Assert.All(ends.Where(f => f.Kind == OutcomeKind.Out), end =>
            Assert.True(Assert.Single(found, f => f.Egg == end.Egg && f.Kind == OutcomeKind.FirstPip).At <= end.At));
        Assert.All(found, f => Assert.True(brood.Eggs[f.Egg - 1].PippedAt is not { } pip || f.At >= pip));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(77)]
    public void Looks_are_on_the_days_that_keepers_look(ulong seed)
    {
        var days = Keeper.LookDays(60, seed);
        Assert.Equal(0, days[0]);
        Assert.InRange(days[1], 7, 10);
        Assert.InRange(days[2], 21, 30);
        Assert.All(days.Skip(2).Zip(days.Skip(3)), pair => Assert.InRange(pair.Second - pair.First, 13, 15));
        Assert.True(days[^1] is <= 60 and > 45);
    }

    [Fact]
    public void The_same_seed_gives_the_same_entries()
    {
        Assert.Equal(Entries(), Entries());

        static List<string> Entries()
        {
            var brood = Broods.Of(EmbryoNatures.BallPython, 15);
            var at = brood.Live(31.5, 24, 92);
            return [.. new Keeper(new KeeperSpec(), brood, Some.Start, 3).Candle(at).Select(look => look with { Shell = [] } + string.Join(',', look.Shell))];
        }
    }
}
