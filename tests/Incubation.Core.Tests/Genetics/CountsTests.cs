using CsCheck;
using Incubation.Core.Genetics;
using Xunit;

namespace Incubation.Core.Tests.Genetics;

public sealed class CountsTests
{
    private static readonly Fraction Half = new(1, 2);

    [Fact]
    public void Distribution_of_any_clutch_adds_up_to_one_with_the_right_mean() =>
        Gen.Select(Gen.Int[0, 150], Gen.Double[0, 1]).Sample((n, p) =>
        {
            IReadOnlyList<double> chances = Binomial.Distribution(n, p);
            Assert.Equal(1, chances.Sum(), 1e-11);
            Assert.Equal(n * p, chances.Select((chance, k) => chance * k).Sum(), 1e-9);
        });

    [Fact]
    public void Probability_obeys_the_ratio_of_neighbours_far_out_in_the_tail()
    {
        // P(k+1)/P(k) = (n-k)/(k+1) · p/q holds exactly; checked where factorials overflow.
        const int N = 2_000;
        for (int k = 0; k < 400; k++)
        {
            double expected = (N - k) / (k + 1.0) / 3;
            Assert.Equal(expected, Binomial.Probability(k + 1, N, 0.25) / Binomial.Probability(k, N, 0.25), expected * 1e-10);
        }
    }

    [Fact]
    public void ExpectedCounts_hold_the_coverage_asked_for() =>
        Gen.Select(Gen.Int[1, 100], Gen.Double[0.01, 0.99], Gen.Double[0.5, 0.99]).Sample((n, p, coverage) =>
        {
            (int low, int high) = Binomial.ExpectedCounts(n, p, coverage);
            double inside = Enumerable.Range(low, high - low + 1).Sum(k => Binomial.Probability(k, n, p));
            Assert.True(inside >= coverage - 1e-12, $"{inside} of {coverage}");
        });

    [Fact]
    public void Measure_of_any_count_holds_the_share_and_mirrors() =>
        Gen.Int[1, 200].SelectMany(n => Gen.Int[0, n].Select(k => (k, n))).Sample(pair =>
        {
            (int k, int n) = pair;
            Proportion share = Proportion.Measure(k, n)!;
            Proportion other = Proportion.Measure(n - k, n)!;
            Assert.InRange(share.Value, share.Low, share.High);
            Assert.InRange(share.Low, 0, 1);
            Assert.Equal(1 - share.Low, other.High, 1e-12);
        });

    [Fact]
    public void Measure_of_nothing_is_nothing() => Assert.Null(Proportion.Measure(0, 0));

    [Fact]
    public void ExactP_with_two_classes_is_the_exact_binomial_test() =>
        Gen.Int[1, 60].SelectMany(n => Gen.Int[0, n].Select(k => (k, n))).Sample(pair =>
        {
            (int k, int n) = pair;
            double multinomial = RatioTest.ExactP([k, n - k], [new(1, 4), new(3, 4)])!.Value;
            Assert.Equal(Binomial.TwoSidedP(k, n, 0.25), multinomial, 1e-10);
        });

    [Fact]
    public void ExactP_comes_near_to_chi_square_when_eggs_are_many()
    {
        int[] observed = [140, 260, 110];
        Fraction[] shares = [new(1, 4), Half, new(1, 4)];
        double exact = RatioTest.ExactP(observed, shares)!.Value;

        Assert.Equal(RatioTest.ChiSquare(observed, shares).P, exact, 0.01);
    }

    [Fact]
    public void ExactP_of_too_many_outcomes_is_left_to_chi_square()
    {
        Fraction[] nine = [.. Enumerable.Repeat(new Fraction(1, 9), 9)];

        Assert.Null(RatioTest.ExactP([.. Enumerable.Repeat(60, 9)], nine));
        Assert.False(RatioTest.Judge([.. Enumerable.Repeat(60, 9)], nine).Exact);
    }

    [Fact]
    public void Judge_of_a_young_that_cannot_be_says_so()
    {
        RatioFit fit = RatioTest.Judge([3, 1], [Fraction.One, Fraction.Zero]);

        Assert.Equal(0, fit.P);
        Assert.Contains("cannot throw", fit.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Judge_of_a_small_clutch_says_that_it_disproves_nothing() =>
        Assert.Contains("6 eggs cannot disprove", RatioTest.Judge([0, 6], [new(1, 4), new(3, 4)]).Words, StringComparison.Ordinal);

    [Theory]
    [InlineData(new[] { 1, 2 }, 1)]
    [InlineData(new[] { 0, 0 }, 2)]
    [InlineData(new[] { -1, 2 }, 2)]
    public void ExactP_of_counts_that_do_not_fit_is_refused(int[] counts, int shares) =>
        Assert.Throws<ArgumentException>(() => RatioTest.ExactP(counts, [.. Enumerable.Repeat(Half, shares)]));

    [Fact]
    public void Judge_of_carriers_gives_mean_range_and_chance()
    {
        CarrierCount count = CarrierCount.Judge(4, 10, Half);

        Assert.Equal(5, count.Mean);
        Assert.Equal((2, 8), (count.Low, count.High));
        Assert.Equal(210 / 1024.0, count.Likelihood, 1e-12);
        Assert.Contains("2 to 8", count.Words, StringComparison.Ordinal);
        Assert.Contains("consistent", count.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Judge_of_carriers_that_cannot_be_says_so() =>
        Assert.Contains("cannot give", CarrierCount.Judge(9, 10, Fraction.One).Words, StringComparison.Ordinal);
}
