using CsCheck;
using Incubation.Simulation.Embryos;
using NodaTime;
using Xunit;

namespace Incubation.Simulation.Tests.Embryos;

public sealed class DevelopmentTests
{
    private static readonly RateCurve[] Curves =
        [EmbryoNatures.BallPython.Curve, EmbryoNatures.BurmesePython.Curve, EmbryoNatures.KingRatsnake.Curve];

    private static readonly Gen<RateCurve> AnyCurve = Gen.Int[0, Curves.Length - 1].Select(i => Curves[i]);

    [Fact]
    public void Warmer_embryos_pip_earlier_below_the_optimum()
        => Gen.Select(AnyCurve, Gen.Double[0.05, 0.9], Gen.Double[0.02, 0.1]).Sample((curve, share, more) =>
        {
            var cool = curve.Zero + ((curve.Optimum - curve.Zero) * share);
            var warm = Math.Min(curve.Optimum, cool + ((curve.Optimum - curve.Zero) * more));
            var nature = Broods.Sturdy with { Curve = new RateCurve(curve.Zero, curve.Ceiling, curve.Optimum, 20) };
            var (slow, fast) = (Broods.Of(nature, 4), Broods.Of(nature, 4));
            slow.Live(cool, 60);
            fast.Live(warm, 60);
            Assert.All(slow.Eggs.Zip(fast.Eggs), pair => Assert.True(
                pair.First.PippedAt is null ? pair.Second.Stage >= pair.First.Stage : pair.Second.PippedAt <= pair.First.PippedAt));
            Assert.True(fast.Eggs[0].Stage >= 1 || fast.Eggs[0].Stage > slow.Eggs[0].Stage);
        }, iter: 60);

    [Fact]
    public void Nobody_develops_at_the_developmental_zero_or_below_nor_at_the_ceiling_or_above()
        => Gen.Select(AnyCurve, Gen.Double[0, 60], Gen.Bool).Sample((curve, beyond, above) =>
        {
            var celsius = above ? curve.Ceiling + beyond : curve.Zero - beyond;
            Assert.Equal(0, curve.PerDay(celsius));
            var brood = Broods.Of(Broods.Sturdy with { Curve = curve, Hazards = Broods.Sturdy.Hazards with { LethalAt = 1_000 } }, 3);
            brood.Live(celsius, 10);
            Assert.All(brood.Eggs, egg => Assert.Equal(0, egg.Stage));
        }, iter: 200);

    [Fact]
    public void The_curve_is_positive_between_and_peaks_where_it_says()
        => Gen.Select(AnyCurve, Gen.Double[0.001, 0.999]).Sample((curve, share) =>
        {
            var celsius = curve.Zero + ((curve.Ceiling - curve.Zero) * share);
            return curve.PerDay(celsius) > 0 && curve.PerDay(celsius) <= curve.PerDay(curve.Optimum);
        });

    // Briere-1, codling moth egg: Aghdam et al. 2009 give a = 1.453e-4, zero 9.645 and ceiling 37.6185 °C. From them: optimum 31.235 °C,
    // rate .055507 a day at 15 °C and .244902 at 30 °C (both worked out by hand from the printed figures).
    [Theory]
    [InlineData(15, 0.055507)]
    [InlineData(20, 0.126308)]
    [InlineData(25, 0.198134)]
    [InlineData(35, 0.208652)]
    public void The_form_gives_the_rates_of_a_published_fit(double celsius, double rate)
    {
        var curve = new RateCurve(9.645, 37.6185, 30, 1 / 0.244902);
        Assert.Equal(rate, curve.PerDay(celsius), 1e-5);
        Assert.Equal(31.235, curve.Optimum, 0.005);
    }

    // Ji and Du 2001, Comp. Biochem. Physiol. A 129:461, Table 1, eggs at −220 kPa.
    [Theory]
    [InlineData(24, 74.3)]
    [InlineData(26, 58.0)]
    [InlineData(30, 44.4)]
    [InlineData(32, 42.5)]
    public void The_ratsnake_takes_about_the_days_that_were_published(double celsius, double days)
        => Assert.InRange(1 / EmbryoNatures.KingRatsnake.Curve.PerDay(celsius), days - 2, days + 2);

    [Fact]
    public void The_curve_is_no_straight_line_so_that_a_forecaster_of_straight_lines_can_be_wrong()
        => Assert.All(Curves, curve =>
        {
            var at31 = curve.PerDay(31.5);
            var straight = curve.PerDay(30) + ((curve.PerDay(30) - curve.PerDay(29)) * 4);
            Assert.True(curve.PerDay(34) < straight - (0.02 * at31));
        });

    [Fact]
    public void The_same_seed_and_climate_give_the_same_lives_and_another_seed_others()
    {
        var (one, same, other) = (Broods.Of(EmbryoNatures.BallPython, 12, 7), Broods.Of(EmbryoNatures.BallPython, 12, 7), Broods.Of(EmbryoNatures.BallPython, 12, 8));
        foreach (var brood in new[] { one, same, other })
        {
            brood.Live(31.5, 66, 92);
        }
        Assert.Equal(one.Eggs.Select(Life), same.Eggs.Select(Life));
        Assert.NotEqual(one.Eggs.Select(Life), other.Eggs.Select(Life));
    }

    [Fact]
    public void How_finely_the_time_is_cut_moves_no_pip_by_more_than_the_cut()
    {
        var (fine, coarse) = (Broods.Of(Broods.Sturdy, 6), Broods.Of(Broods.Sturdy, 6));
        fine.Live(31, 70);
        for (var day = 0; day < 70; day++)
        {
            coarse.Live(new EggClimate(31, 94), Some.Start + Duration.FromDays(day), Duration.FromDays(1));
        }
        Assert.All(fine.Eggs.Zip(coarse.Eggs), pair => Assert.Equal(
            (pair.First.PippedAt!.Value - Some.Start).TotalDays, (pair.Second.PippedAt!.Value - Some.Start).TotalDays, 1e-6));
    }

    [Fact]
    public void Eggs_of_a_clutch_pip_over_days_and_leave_the_egg_hours_to_days_later()
    {
        var brood = Broods.Of(Broods.Sturdy, 200);
        brood.Live(31.5, 80);
        Assert.All(brood.Eggs, egg => Assert.Equal(EmbryoState.Out, egg.State));
        var pips = brood.Eggs.Select(egg => (egg.PippedAt!.Value - Some.Start).TotalDays).ToList();
        Assert.InRange(brood.MeanPipDays(), 58, 60);
        Assert.InRange(pips.Max() - pips.Min(), 4, 14);
        Assert.All(brood.Eggs, egg => Assert.InRange((egg.OutAt!.Value - egg.PippedAt!.Value).TotalHours, 4, 170));
    }

    private static object Life(Embryo egg) => (egg.State, egg.Stage, egg.Grams, egg.PippedAt, egg.OutAt, egg.DiedAt, egg.Cause);
}
