using CsCheck;
using Incubation.Simulation.Embryos;
using NodaTime;
using Xunit;

namespace Incubation.Simulation.Tests.Embryos;

public sealed class HazardTests
{
    /// <summary>Dead of heat after six hours of a hot night at the end of so many days at 31.5 °C.</summary>
    private static int DeadOfHeat(double days, double earlyFactor, double celsius = 37.5, ulong seed = 3)
    {
        var hazards = Broods.Sturdy.Hazards with { HeatTolerance = 30, EarlyHeatFactor = earlyFactor };
        var brood = Broods.Of(Broods.Sturdy with { Hazards = hazards }, 300, seed);
        var at = brood.Live(31.5, days);
        brood.Live(celsius, 0.25, from: at);
        return brood.Eggs.Count(egg => egg.Cause == DeathCause.Heat);
    }

    [Fact]
    public void A_hot_spell_kills_more_early_embryos_when_the_parameter_says_so()
    {
        var (early, late) = (DeadOfHeat(3, 3), DeadOfHeat(45, 3));
        Assert.True(early > late + 60, $"{early} early, {late} late.");
        Assert.Equal(DeadOfHeat(3, 1), DeadOfHeat(45, 1));
        Assert.Equal(late, DeadOfHeat(45, 1));
    }

    [Fact]
    public void More_heat_never_kills_fewer()
        => Gen.Select(Gen.Double[1, 55], Gen.Double[34, 40], Gen.Double[0, 1.9], Gen.ULong).Sample(
            (days, celsius, more, seed) => DeadOfHeat(days, 3, celsius, seed) <= DeadOfHeat(days, 3, celsius + more, seed), iter: 15);

    [Fact]
    public void Two_half_nights_of_heat_weigh_about_as_much_as_one_whole_one_because_dose_counts()
    {
        var hazards = Broods.Sturdy.Hazards with { HeatTolerance = 22 };
        var (once, twice) = (Broods.Of(Broods.Sturdy with { Hazards = hazards }, 300), Broods.Of(Broods.Sturdy with { Hazards = hazards }, 300));
        once.Live(38, 0.25, from: once.Live(31.5, 40));
        var at = twice.Live(38, 0.125, from: twice.Live(31.5, 40));
        twice.Live(38, 0.125, from: twice.Live(31.5, 1, from: at));
        Assert.Equal(once.Eggs.Count(egg => egg.State == EmbryoState.Dead), twice.Eggs.Count(egg => egg.State == EmbryoState.Dead));
    }

    [Fact]
    public void At_the_lethal_temperature_all_die_at_once()
    {
        var brood = Broods.Of(Broods.Sturdy, 20);
        brood.Live(new EggClimate(Broods.Sturdy.Hazards.LethalAt, 94), Some.Start, Duration.FromMinutes(5));
        Assert.All(brood.Eggs, egg => Assert.Equal(DeathCause.Heat, egg.Cause));
    }

    [Theory]
    [InlineData(16, 94, DeathCause.Cold)]
    [InlineData(31.5, 70, DeathCause.Drying)]
    [InlineData(31.5, 104, DeathCause.TooWet)]
    public void Cold_drought_and_wet_kill_each_in_their_own_name(double celsius, double humidity, DeathCause cause)
    {
        var nature = EmbryoNatures.BallPython with { SlugShare = 0, Hazards = new() { UnexplainedShare = 0 } };
        var brood = Broods.Of(nature, 60);
        brood.Live(celsius, 58, humidity);
        var dead = brood.Eggs.Where(egg => egg.State == EmbryoState.Dead).ToList();
        Assert.InRange(dead.Count, 30, 60);
        Assert.All(dead, egg => Assert.Equal(cause, egg.Cause));
    }

    [Fact]
    public void Dry_air_takes_mass_and_wet_air_gives_it_and_the_last_days_take_some_anyway()
    {
        var nature = Broods.Sturdy;
        var (dry, wet, even) = (Broods.Of(nature, 5), Broods.Of(nature, 5), Broods.Of(nature, 5));
        dry.Live(31.5, 30, 85);
        wet.Live(31.5, 30, 99);
        even.Live(31.5, 30);
        Assert.All(dry.Eggs, egg => Assert.True(egg.Grams < egg.FreshGrams));
        Assert.All(wet.Eggs, egg => Assert.True(egg.Grams > egg.FreshGrams));
        Assert.All(even.Eggs, egg => Assert.Equal(egg.FreshGrams, egg.Grams, 1e-9));
        even.Live(31.5, 25, from: Some.Start + Duration.FromDays(30));
        Assert.All(even.Eggs, egg => Assert.True(egg.Grams < egg.FreshGrams));
    }

    [Fact]
    public void Slugs_are_slugs_from_the_start_and_about_as_many_as_said()
    {
        var brood = Broods.Of(Broods.Sturdy with { SlugShare = 0.2 }, 2_000);
        var before = brood.Eggs.Select(egg => egg.State).ToList();
        brood.Live(31.5, 5);
        Assert.Equal(before, brood.Eggs.Select(egg => egg.State));
        // 0.2 ± 5 standard errors of 2,000 draws.
        Assert.InRange(before.Count(state => state == EmbryoState.Slug) / 2_000.0, 0.155, 0.245);
    }
}
