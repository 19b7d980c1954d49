using CsCheck;
using Incubation.Simulation.Embryos;
using NodaTime;
using Xunit;

namespace Incubation.Simulation.Tests.Embryos;

public sealed class InheritanceTests
{
    // Shares after Mendel 1866: each parent hands on one of its two copies at random.
    [Theory]
    [InlineData(0, 0, 0)]
    [InlineData(1, 0, 0.5)]
    [InlineData(0, 1, 0.5)]
    [InlineData(1, 1, 0.75)]
    [InlineData(2, 0, 1)]
    [InlineData(2, 1, 1)]
    [InlineData(2, 2, 1)]
    public void The_share_of_carriers_converges_to_the_expected_one(int dam, int sire, double share)
    {
        double last = 1;
        foreach (var eggs in new[] { 100, 1_600, 25_600 })
        {
            var brood = Broods.Of(Broods.Sturdy, eggs, 5, new TraitCross(dam, sire));
            last = Math.Abs((brood.Eggs.Count(egg => egg.Copies[0] > 0) / (double)eggs) - share);
            // Five standard errors of a fair draw.
            Assert.True(last <= 5 * 0.5 / Math.Sqrt(eggs), $"{last} off with {eggs} eggs.");
        }
        Assert.True(last < 0.016);
    }

    [Fact]
    public void Carrier_by_carrier_gives_one_two_one()
    {
        var brood = Broods.Of(Broods.Sturdy, 20_000, 9, new TraitCross(1, 1));
        var shares = Enumerable.Range(0, 3).Select(copies => brood.Eggs.Count(egg => egg.Copies[0] == copies) / 20_000.0).ToArray();
        Assert.Equal(0.25, shares[0], 0.016);
        Assert.Equal(0.5, shares[1], 0.018);
        Assert.Equal(0.25, shares[2], 0.016);
    }

    [Fact]
    public void Two_traits_are_handed_on_independently()
    {
        var brood = Broods.Of(Broods.Sturdy, 20_000, 11, new TraitCross(1, 0), new TraitCross(0, 1));
        Assert.Equal(0.25, brood.Eggs.Count(egg => egg.Copies[0] == 1 && egg.Copies[1] == 1) / 20_000.0, 0.016);
    }

    [Fact]
    public void No_young_has_a_copy_that_its_parents_have_not()
        => Gen.Select(Gen.Int[0, 2], Gen.Int[0, 2], Gen.ULong).Sample((dam, sire, seed) =>
        {
            var copies = Segregation.Draw(new TraitCross(dam, sire), seed);
            return copies >= (dam / 2) + (sire / 2) && copies <= Math.Min(dam, 1) + Math.Min(sire, 1);
        });

    [Theory]
    [InlineData(-1)]
    [InlineData(3)]
    public void A_parent_with_an_impossible_number_of_copies_is_refused(int copies)
        => Assert.Throws<ArgumentOutOfRangeException>(() => Segregation.Draw(new TraitCross(copies, 0), 1));

    [Fact]
    public void The_glow_tells_carriers_as_often_as_the_stated_misreading_says()
    {
        var brood = Broods.Of(Broods.Sturdy with { SlugShare = 0 }, 8_000, 21, new TraitCross(1, 0));
        foreach (var egg in brood.Eggs)
        {
            egg.Live(new EggClimate(31.5, 94), Some.Start, Duration.FromDays(24));
        }
        var glow = Broods.Sturdy.Glow;
        var at = Some.Start + Duration.FromDays(24);
        var carriers = brood.Eggs.Where(egg => egg.Copies[0] > 0).ToList();
        var others = brood.Eggs.Where(egg => egg.Copies[0] == 0).ToList();
        Assert.Equal(1 - glow.CarriersThatDoNot, Greenish(carriers), 0.02);
        Assert.Equal(glow.OthersThatDo, Greenish(others), 0.02);

        double Greenish(List<Embryo> eggs) => eggs.Count(egg => EggSight.Of(egg, Some.Start, at).Glow == Glow.Greenish) / (double)eggs.Count;
    }
}
