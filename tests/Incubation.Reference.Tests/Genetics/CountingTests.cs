using Incubation.Core.Genetics;
using Incubation.Reference.Tests.Sources;
using Xunit;

namespace Incubation.Reference.Tests.Genetics;

public sealed class CountingTests
{
    [Theory]
    [Source("Newcombe, R. G.", 1998, "Two-sided confidence intervals for the single proportion: comparison of seven methods", "Table I, score method")]
    [InlineData(81, 263, 0.2553, 0.3662)]
    [InlineData(0, 20, 0.0000, 0.1611)]
    public void Wilson_intervals_are_the_printed_ones(int count, int of, double low, double high)
    {
        Proportion share = Proportion.Measure(count, of)!;

        Assert.Equal(low, share.Low, 5e-5);
        Assert.Equal(high, share.High, 5e-5);
    }

    [Theory]
    [Source("R Core Team", 2022, "R 4.2.2, prop.test without continuity correction", "computed")]
    [InlineData(81, 263, 0.90, 0.263313617, 0.35656635)]
    [InlineData(0, 20, 0.99, 0, 0.249105401)]
    [InlineData(4, 20, 0.95, 0.0806576626, 0.416017432)]
    [InlineData(10, 10, 0.95, 0.7224672, 1)]
    [InlineData(1, 1, 0.95, 0.206549314, 1)]
    [InlineData(3, 7, 0.99, 0.116373681, 0.810285096)]
    [InlineData(6, 9, 0.95, 0.354202136, 0.879416182)]
    [InlineData(47, 50, 0.90, 0.859058054, 0.975768743)]
    [InlineData(437, 980, 0.99, 0.405518627, 0.487045481)]
    public void Wilson_intervals_agree_with_R(int count, int of, double confidence, double low, double high)
    {
        Proportion share = Proportion.Measure(count, of, confidence)!;

        Assert.Equal(low, share.Low, 1e-6);
        Assert.Equal(high, share.High, 1e-6);
    }

    [Theory]
    [NoSource(NoSourceAttribute.FromMemory, Remark = "the definition, as exact fractions")]
    [InlineData(5, 0.0625, 0, 0.724196434021)]
    [InlineData(5, 0.0625, 5, 9.53674316406e-07)]
    [InlineData(7, 0.0625, 4, 0.000440049916506)]
    [InlineData(7, 0.0625, 7, 3.72529029846e-09)]
    [InlineData(15, 0.0625, 3, 0.0512043391544)]
    public void Binomial_probabilities_agree_with_exact_fractions(int n, double p, int k, double probability) =>
        Assert.Equal(1, Binomial.Probability(k, n, p) / probability, 1e-10);

    [Theory]
    [Source("R Core Team", 2022, "R 4.2.2, binom.test", "computed")]
    [InlineData(0, 6, 0.25, 0.3474121094, 0.1779785156, 1.0)]
    [InlineData(2, 8, 0.5, 0.2890625, 0.14453125, 0.96484375)]
    [InlineData(5, 7, 0.25, 0.01287841797, 0.9986572266, 0.01287841797)]
    [InlineData(7, 10, 0.5, 0.34375, 0.9453125, 0.171875)]
    [InlineData(12, 16, 0.5, 0.07681274414, 0.989364624, 0.03840637207)]
    [InlineData(6, 24, 0.25, 1.0, 0.6074123382, 0.5778447982)]
    [InlineData(0, 4, 0.25, 0.578125, 0.31640625, 1.0)]
    [InlineData(8, 32, 0.0625, 0.0006291788802, 0.999891172, 0.0006291788802)]
    public void Exact_binomial_tests_agree_with_R(int k, int n, double p, double twoSided, double atMost, double atLeast)
    {
        Assert.Equal(twoSided, Binomial.TwoSidedP(k, n, p), 1e-8);
        Assert.Equal(atMost, Binomial.AtMost(k, n, p), 1e-8);
        Assert.Equal(atLeast, Binomial.AtLeast(k, n, p), 1e-8);
    }

    [Theory]
    [Source("NIST/SEMATECH", 2012, "e-Handbook of Statistical Methods", "1.3.6.7.4, critical values of the chi-square distribution")]
    [InlineData(1, 3.841, 0.05)]
    [InlineData(1, 10.828, 0.001)]
    [InlineData(3, 7.815, 0.05)]
    [InlineData(5, 15.086, 0.01)]
    [InlineData(7, 12.017, 0.10)]
    [InlineData(9, 19.023, 0.025)]
    [InlineData(15, 37.697, 0.001)]
    [InlineData(21, 32.671, 0.05)]
    public void Chi_square_tails_are_those_of_the_printed_table(int freedom, double critical, double upper)
    {
        // The printed value is rounded to three decimals, so the tail asked for lies between those of its neighbours.
        Assert.InRange(upper, RatioTest.UpperTail(critical + 0.0005, freedom), RatioTest.UpperTail(critical - 0.0005, freedom));
    }

    [Theory]
    [Source("R Core Team", 2022, "R 4.2.2, qchisq", "computed")]
    [InlineData(1, 3.841458821, 0.05)]
    [InlineData(7, 24.32188635, 0.001)]
    [InlineData(13, 24.73560488, 0.025)]
    [InlineData(21, 46.79703804, 0.001)]
    public void Chi_square_tails_agree_with_R(int freedom, double quantile, double upper) =>
        Assert.Equal(1, RatioTest.UpperTail(quantile, freedom) / upper, 1e-6);

    [Theory]
    [NoSource(NoSourceAttribute.FromMemory, Remark = "the definition, by exact enumeration")]
    [InlineData(new[] { 3, 1, 2, 1 }, new[] { 9, 3, 3, 1 }, 0.0307964533567, 0.519575327635)]
    [InlineData(new[] { 2, 2, 3 }, new[] { 1, 2, 1 }, 0.05126953125, 0.4736328125)]
    [InlineData(new[] { 1, 5 }, new[] { 3, 1 }, 0.00439453125, 0.004638671875)]
    [InlineData(new[] { 4, 4, 4, 4 }, new[] { 9, 3, 3, 1 }, 0.000147161762291, 0.00878906464975)]
    [InlineData(new[] { 8, 0 }, new[] { 1, 1 }, 0.00390625, 0.0078125)]
    public void Small_clutches_are_tested_exactly(int[] observed, int[] ratio, double likelihood, double p)
    {
        Fraction[] shares = [.. ratio.Select(part => new Fraction(part, ratio.Sum()))];

        Assert.Equal(likelihood, RatioTest.Likelihood(observed, shares), 1e-9);
        Assert.Equal(p, RatioTest.ExactP(observed, shares)!.Value, 1e-9);
        Assert.True(RatioTest.Judge(observed, shares).Exact);
    }

    [Fact]
    [NoSource(NoSourceAttribute.FromMemory, Remark = "0.75 to the sixth: no visual young in six eggs of two carriers")]
    public void Six_eggs_of_two_carriers_often_show_nothing() =>
        Assert.Equal(0.178, Binomial.Probability(0, 6, Cross.Of(Inheritance.Recessive, 1, 1).Two.Value), 0.0005);
}
