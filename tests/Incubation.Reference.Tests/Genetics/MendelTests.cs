using Incubation.Core.Genetics;
using Incubation.Reference.Tests.Sources;
using Xunit;

namespace Incubation.Reference.Tests.Genetics;

public sealed class MendelTests
{
    private static readonly Fraction[] ThreeToOne = [new(3, 4), new(1, 4)];
    private static readonly Fraction[] NineThreeThreeOne = [new(9, 16), new(3, 16), new(3, 16), new(1, 16)];

    [Theory]
    [Source("Mendel, G.", 1866, "Versuche über Pflanzen-Hybriden", "seven single traits, second generation",
        Remark = "chi-square values as later textbooks print them, recomputed")]
    [InlineData("seed form", 5474, 1850, 0.263)]
    [InlineData("seed colour", 6022, 2001, 0.015)]
    [InlineData("seed coat", 705, 224, 0.391)]
    [InlineData("pod form", 882, 299, 0.064)]
    [InlineData("pod colour", 428, 152, 0.451)]
    [InlineData("flower position", 651, 207, 0.350)]
    [InlineData("stem length", 787, 277, 0.607)]
    public void Second_generation_counts_have_their_published_chi_square(string trait, int shows, int recessive, double chiSquare)
    {
        (double statistic, int freedom, double p) = RatioTest.ChiSquare([shows, recessive], ThreeToOne);

        Assert.True(Math.Abs(statistic - chiSquare) <= 0.001, trait);
        Assert.Equal(1, freedom);
        Assert.InRange(p, 0.4, 1);
    }

    [Fact]
    [Source("Mendel, G.", 1866, "Versuche über Pflanzen-Hybriden", "seven single traits together", Remark = "sum and p recomputed")]
    public void The_seven_together_give_2_139_on_seven_degrees()
    {
        (int, int)[] counts = [(5474, 1850), (6022, 2001), (705, 224), (882, 299), (428, 152), (651, 207), (787, 277)];
        double sum = counts.Sum(count => RatioTest.ChiSquare([count.Item1, count.Item2], ThreeToOne).Statistic);

        Assert.Equal(2.139, sum, 0.001);
        Assert.Equal(0.952, RatioTest.UpperTail(sum, 7), 0.0005);
    }

    [Fact]
    [Source("Mendel, G.", 1866, "Versuche über Pflanzen-Hybriden", "two traits: 315 : 101 : 108 : 32", Remark = "0.470, p 0.925 recomputed")]
    public void Two_traits_give_0_470()
    {
        (double statistic, int freedom, double p) = RatioTest.ChiSquare([315, 101, 108, 32], NineThreeThreeOne);

        Assert.Equal(0.470024, statistic, 1e-5);
        Assert.Equal(3, freedom);
        Assert.Equal(0.925426, p, 1e-5);
    }

    [Theory]
    [NoSource(NoSourceAttribute.FromMemory, Remark = "linkage in the fruit fly, textbook counts after Bridges and Morgan")]
    [InlineData(965, 944, 206, 185, 1002.646957)]
    public void Linked_traits_are_rejected(int a, int b, int c, int d, double chiSquare)
    {
        Fraction quarter = new(1, 4);
        (double statistic, _, double p) = RatioTest.ChiSquare([a, b, c, d], [quarter, quarter, quarter, quarter]);

        Assert.Equal(chiSquare, statistic, 1e-5);
        Assert.Equal(1, p / 4.79652e-217, 1e-4);
        Assert.Contains("rare", RatioTest.Judge([a, b, c, d], [quarter, quarter, quarter, quarter]).Words, StringComparison.Ordinal);
    }

    [Fact]
    [NoSource(NoSourceAttribute.FromMemory, Remark = "linkage in the sweet pea, textbook counts 4831 : 390 : 393 : 1338")]
    public void Linked_sweet_peas_are_rejected()
    {
        (double statistic, _, double p) = RatioTest.ChiSquare([4831, 390, 393, 1338], NineThreeThreeOne);

        Assert.Equal(3371.6, statistic, 0.1);
        Assert.True(p < 1e-300);
    }

    [Fact]
    [Source("Castle, W. E. and Little, C. C.", 1910, "On a modified Mendelian ratio among yellow mice", "yellow mice, 2 : 1",
        Remark = "counts 800 : 435 from memory")]
    public void Yellow_mice_fit_two_to_one_and_not_three_to_one()
    {
        Assert.Equal(0.159, RatioTest.ChiSquare([800, 435], [new(2, 3), new(1, 3)]).P, 0.001);
        Assert.True(RatioTest.ChiSquare([800, 435], ThreeToOne).P < 1e-15);
    }

    [Theory]
    [Source("Mendel, G.", 1866, "Versuche über Pflanzen-Hybriden", "law of segregation", Remark = "shares enumerated as exact fractions")]
    [InlineData(1, 1, "1/4", "1/2", "1/4")]
    [InlineData(1, 0, "1/2", "1/2", "0")]
    [InlineData(1, 2, "0", "1/2", "1/2")]
    [InlineData(2, 0, "0", "1", "0")]
    [InlineData(2, 2, "0", "0", "1")]
    [InlineData(0, 0, "1", "0", "0")]
    public void Crosses_at_one_locus_give_their_exact_shares(int dam, int sire, string none, string one, string two)
    {
        CrossShares shares = Cross.Of(Inheritance.Recessive, dam, sire);

        Assert.Equal((none, one, two), (shares.None.ToString(), shares.One.ToString(), shares.Two.ToString()));
    }

    [Fact]
    [Source("Mendel, G.", 1866, "Versuche über Pflanzen-Hybriden", "independent assortment", Remark = "shares enumerated as exact fractions")]
    public void Unlinked_loci_multiply()
    {
        CrossShares single = Cross.Of(Inheritance.Recessive, 1, 1);
        Fraction shows = single.None + single.One;

        Assert.Equal("9/16", (shows * shows).ToString());
        Assert.Equal("3/16", (shows * single.Two).ToString());
        Assert.Equal("1/16", (single.Two * single.Two).ToString());
        Assert.Equal("1/8", (single.One * single.None).ToString());
    }

    [Theory]
    [NoSource(NoSourceAttribute.CommonPractice, Remark = "incomplete dominant pairings as breeders state them")]
    [InlineData(1, 0, "1/2 normal, 1/2 Lantern")]
    [InlineData(1, 1, "1/4 normal, 1/2 Lantern, 1/4 super Lantern")]
    [InlineData(2, 0, "Every young is expected Lantern.")]
    public void Incomplete_dominant_pairings_give_what_breeders_state(int dam, int sire, string words)
    {
        CrossExpectation expectation = Cross.Expect(new Pairing(
            new Trait("lantern", "Lantern", Inheritance.IncompleteDominant), ParentCopies.Known(dam), ParentCopies.Known(sire)));

        Assert.Contains(words, expectation.Words, StringComparison.Ordinal);
    }
}
