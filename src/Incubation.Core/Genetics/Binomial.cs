namespace Incubation.Core.Genetics;

/// <summary>Counts among n independent eggs of equal chance, exactly. n up to <see cref="Limits.EggsCounted"/>.</summary>
public static class Binomial
{
    /// <summary>
    /// Probability of exactly <paramref name="k"/> of <paramref name="n"/>, by the saddle-point form (Loader 2000, "Fast and
    /// accurate computation of binomial probabilities"; from memory), which keeps full precision far out in the tails.
    /// </summary>
    /// <param name="k">Count; outside 0 to n the probability is 0.</param>
    /// <param name="n">Eggs, ≥ 0.</param>
    /// <param name="p">Chance of each, 0 to 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">n is negative or too large, or p is not between 0 and 1.</exception>
    public static double Probability(int k, int n, double p)
    {
        Check(n, p);
        if (k < 0 || k > n)
        {
            return 0;
        }

        if (p == 0 || p == 1)
        {
            return k == (p == 0 ? 0 : n) ? 1 : 0;
        }

        double q = 1 - p;
        if (k == 0)
        {
            return Math.Exp(n * LogOneMinus(p));
        }

        if (k == n)
        {
            return Math.Exp(n * Math.Log(p));
        }

        double rest = SpecialFunctions.StirlingError(n) - SpecialFunctions.StirlingError(k) - SpecialFunctions.StirlingError(n - k)
            - Deviance(k, n * p) - Deviance(n - k, n * q);
        return Math.Exp(rest) * Math.Sqrt(n / (2 * Math.PI * k * (double)(n - k)));
    }

    /// <summary>Probabilities of 0 to n; they add up to one.</summary>
    public static IReadOnlyList<double> Distribution(int n, double p) =>
        [.. Enumerable.Range(0, n + 1).Select(k => Probability(k, n, p))];

    /// <summary>Probability of <paramref name="k"/> or fewer.</summary>
    public static double AtMost(int k, int n, double p)
    {
        Check(n, p);
        double sum = 0;
        for (int i = 0; i <= Math.Min(k, n); i++)
        {
            sum += Probability(i, n, p);
        }

        return Math.Min(sum, 1);
    }

    /// <summary>Probability of <paramref name="k"/> or more.</summary>
    public static double AtLeast(int k, int n, double p)
    {
        Check(n, p);
        double sum = 0;
        for (int i = n; i >= Math.Max(k, 0); i--)
        {
            sum += Probability(i, n, p);
        }

        return Math.Min(sum, 1);
    }

    /// <summary>
    /// Exact two-sided test: the chance of all counts that are no likelier than the one seen (the definition used by R's
    /// binom.test; ties are counted within a relative 1e-7).
    /// </summary>
    public static double TwoSidedP(int k, int n, double p)
    {
        double seen = Probability(k, n, p) * (1 + 1e-7);
        return Math.Min(1, Distribution(n, p).Where(likelihood => likelihood <= seen).Sum());
    }

    /// <summary>
    /// The counts within which at least <paramref name="coverage"/> of all clutches of this size fall: outside it at most half of
    /// the rest on either side.
    /// </summary>
    /// <param name="n">Eggs, ≥ 0.</param>
    /// <param name="p">Chance of each.</param>
    /// <param name="coverage">For example 0.95.</param>
    public static (int Low, int High) ExpectedCounts(int n, double p, double coverage = 0.95)
    {
        Check(n, p);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(coverage);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(coverage, 1);
        double tail = (1 - coverage) / 2;
        int low = 0;
        while (low < n && AtMost(low, n, p) <= tail)
        {
            low++;
        }

        int high = n;
        while (high > low && AtLeast(high, n, p) <= tail)
        {
            high--;
        }

        return (low, high);
    }

    // x·log(x/m) + m − x without cancellation when x is near m.
    private static double Deviance(double x, double m)
    {
        if (Math.Abs(x - m) >= 0.1 * (x + m))
        {
            return (x * Math.Log(x / m)) + m - x;
        }

        double v = (x - m) / (x + m);
        double sum = (x - m) * v;
        double term = 2 * x * v;
        for (int j = 1; j < 1000; j++)
        {
            term *= v * v;
            double next = sum + (term / ((2 * j) + 1));
            if (next == sum)
            {
                break;
            }

            sum = next;
        }

        return sum;
    }

    private static double LogOneMinus(double p) => p > 0.1 ? Math.Log(1 - p) : -LogSeries(p);

    private static double LogSeries(double p)
    {
        double sum = 0;
        double power = p;
        for (int j = 1; power / j > 1e-18 * sum; j++)
        {
            sum += power / j;
            power *= p;
        }

        return sum;
    }

    private static void Check(int n, double p)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(n);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(n, Limits.EggsCounted);
        if (!(p >= 0 && p <= 1))
        {
            throw new ArgumentOutOfRangeException(nameof(p), p, "A probability is between 0 and 1.");
        }
    }
}
