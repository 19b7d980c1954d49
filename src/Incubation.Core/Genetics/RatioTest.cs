using System.Globalization;

namespace Incubation.Core.Genetics;

/// <summary>How well counts fit a ratio.</summary>
/// <param name="P">Chance of a fit as bad or worse if the ratio holds.</param>
/// <param name="Exact">Whether all outcomes were enumerated; otherwise chi-square.</param>
/// <param name="ChiSquare">Pearson's statistic.</param>
/// <param name="DegreesOfFreedom">Classes less one.</param>
/// <param name="Words">One sentence for the page.</param>
public sealed record RatioFit(double P, bool Exact, double ChiSquare, int DegreesOfFreedom, string Words);

/// <summary>Tests of counts against expected shares: exact for clutches, chi-square (Pearson 1900) for many.</summary>
public static class RatioTest
{
    /// <summary>Pearson's chi-square with its upper tail. Counts in a class that cannot occur give P = 0.</summary>
    /// <param name="observed">Counts, each ≥ 0, at least one egg in all.</param>
    /// <param name="shares">Expected shares, as many as counts, adding up to one.</param>
    /// <exception cref="ArgumentException">The lengths differ, no egg is counted, or the shares do not add up to one.</exception>
    public static (double Statistic, int DegreesOfFreedom, double P) ChiSquare(
        IReadOnlyList<int> observed, IReadOnlyList<Fraction> shares)
    {
        int n = CheckedTotal(observed, shares);
        double statistic = 0;
        int classes = 0;
        for (int i = 0; i < observed.Count; i++)
        {
            double expected = n * shares[i].Value;
            if (expected > 0)
            {
                classes++;
                statistic += (observed[i] - expected) * (observed[i] - expected) / expected;
            }
            else if (observed[i] > 0)
            {
                statistic = double.PositiveInfinity;
            }
        }

        int freedom = Math.Max(classes - 1, 0);
        return (statistic, freedom, UpperTail(statistic, freedom));
    }

    /// <summary>Upper tail of the chi-square distribution.</summary>
    /// <param name="statistic">≥ 0.</param>
    /// <param name="degreesOfFreedom">≥ 0; with 0 any positive statistic is impossible.</param>
    public static double UpperTail(double statistic, int degreesOfFreedom) => degreesOfFreedom == 0
        ? (statistic > 1e-12 ? 0 : 1)
        : SpecialFunctions.UpperGamma(degreesOfFreedom / 2.0, statistic / 2);

    /// <summary>
    /// Exact multinomial test: the chance of all outcomes no likelier than the one seen (ties within a relative 1e-7), or null
    /// when there are more than <see cref="Limits.MultinomialOutcomes"/> of them.
    /// </summary>
    /// <exception cref="ArgumentException">The lengths differ, no egg is counted, or the shares do not add up to one.</exception>
    public static double? ExactP(IReadOnlyList<int> observed, IReadOnlyList<Fraction> shares)
    {
        int n = CheckedTotal(observed, shares);
        if (Outcomes(n, observed.Count) > Limits.MultinomialOutcomes)
        {
            return null;
        }

        double[] p = [.. shares.Select(share => share.Value)];
        double seen = Likelihood(observed, p);
        return Math.Min(1, NoLikelier(n, p, 0, 1, seen * (1 + 1e-7)));
    }

    /// <summary>The chance of exactly these counts.</summary>
    /// <exception cref="ArgumentException">The lengths differ, no egg is counted, or the shares do not add up to one.</exception>
    public static double Likelihood(IReadOnlyList<int> observed, IReadOnlyList<Fraction> shares)
    {
        CheckedTotal(observed, shares);
        return Likelihood(observed, [.. shares.Select(share => share.Value)]);
    }

    /// <summary>Counts against shares by the exact test where it can be enumerated, else by chi-square, with words.</summary>
    /// <exception cref="ArgumentException">The lengths differ, no egg is counted, or the shares do not add up to one.</exception>
    public static RatioFit Judge(IReadOnlyList<int> observed, IReadOnlyList<Fraction> shares)
    {
        (double statistic, int freedom, double asymptotic) = ChiSquare(observed, shares);
        double? exact = ExactP(observed, shares);
        double p = exact ?? asymptotic;
        int n = observed.Sum();
        string size = n == 1 ? "1 egg" : string.Create(CultureInfo.InvariantCulture, $"{n} eggs");
        string words = p switch
        {
            0 => "A young was seen that this pairing cannot throw: check the pairing or what was seen.",
            < 0.01 => $"A fit as bad as this is rare ({CrossWords.Chance(p)}) if the pairing is as entered: check the pairing or what was seen.",
            < 0.05 => $"Not a good fit ({CrossWords.Chance(p)}), but {size} alone cannot disprove a ratio.",
            _ => $"Consistent with the pairing as entered; {size} cannot disprove a ratio.",
        };
        return new RatioFit(p, exact is not null, statistic, freedom, words);
    }

    // Sums, class by class, the likelihood of all ways to share out what is left; each class is binomial in the rest.
    private static double NoLikelier(int left, double[] p, int index, double chance, double seen)
    {
        if (index == p.Length - 1)
        {
            return chance <= seen ? chance : 0;
        }

        double rest = 0;
        for (int i = index; i < p.Length; i++)
        {
            rest += p[i];
        }

        double share = rest > 0 ? Math.Min(1, p[index] / rest) : 0;
        double sum = 0;
        for (int count = 0; count <= left; count++)
        {
            double next = chance * Binomial.Probability(count, left, share);
            if (next > 0)
            {
                sum += NoLikelier(left - count, p, index + 1, next, seen);
            }
        }

        return sum;
    }

    private static double Likelihood(IReadOnlyList<int> observed, double[] p)
    {
        double likelihood = 1;
        int left = observed.Sum();
        double rest = 1;
        for (int i = 0; i < p.Length - 1; i++)
        {
            likelihood *= Binomial.Probability(observed[i], left, rest > 0 ? Math.Min(1, p[i] / rest) : 0);
            left -= observed[i];
            rest = p.Skip(i + 1).Sum();
        }

        return p[^1] == 0 && observed[^1] > 0 ? 0 : likelihood;
    }

    private static double Outcomes(int n, int classes)
    {
        double count = 1;
        for (int i = 1; i < classes; i++)
        {
            count *= (double)(n + i) / i;
        }

        return count;
    }

    private static int CheckedTotal(IReadOnlyList<int> observed, IReadOnlyList<Fraction> shares)
    {
        ArgumentNullException.ThrowIfNull(observed);
        ArgumentNullException.ThrowIfNull(shares);
        if (observed.Count != shares.Count || observed.Count == 0)
        {
            throw new ArgumentException("There must be as many counts as shares, and at least one.", nameof(observed));
        }

        if (observed.Any(count => count < 0) || observed.Sum() == 0)
        {
            throw new ArgumentException("Counts must not be negative, and at least one egg must be counted.", nameof(observed));
        }

        if (shares.Aggregate(Fraction.Zero, Fraction.Add) != Fraction.One || shares.Any(share => share.Numerator < 0))
        {
            throw new ArgumentException("Shares must not be negative and must add up to one.", nameof(shares));
        }

        return observed.Sum();
    }
}
