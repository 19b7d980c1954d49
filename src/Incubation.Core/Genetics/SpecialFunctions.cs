namespace Incubation.Core.Genetics;

/// <summary>The few special functions that the exact tests rest on. Relative errors below 1e-12 over the ranges used here.</summary>
internal static class SpecialFunctions
{
    private const double LogRootTwoPi = 0.91893853320467274178;

    /// <summary>Natural logarithm of Γ(x) for x &gt; 0: Stirling's series after shifting x above 15.</summary>
    public static double LogGamma(double x)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(x);
        double product = 1;
        double shift = 0;
        while (x < 15)
        {
            product *= x;
            if (product > 1e200)
            {
                shift += Math.Log(product);
                product = 1;
            }

            x += 1;
        }

        return ((x - 0.5) * Math.Log(x)) - x + LogRootTwoPi + StirlingRest(x) - Math.Log(product) - shift;
    }

    /// <summary>The correction of Stirling's formula for Γ(x), x ≥ 15, by its Bernoulli series.</summary>
    private static double StirlingRest(double x)
    {
        double inverse = 1 / x;
        double square = inverse * inverse;
        return inverse * ((1.0 / 12) - (square * ((1.0 / 360) - (square * ((1.0 / 1260) - (square * ((1.0 / 1680)
            - (square * (1.0 / 1188)))))))));
    }

    /// <summary>log(n!) minus Stirling's formula at n: what the saddle-point form of the binomial needs.</summary>
    public static double StirlingError(double n) => n >= 15
        ? StirlingRest(n)
        : LogGamma(n + 1) - ((n + 0.5) * Math.Log(n)) + n - LogRootTwoPi;

    /// <summary>Upper regularized incomplete gamma Q(a, x), a &gt; 0, x ≥ 0: series below a + 1, continued fraction above.</summary>
    public static double UpperGamma(double a, double x)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(a);
        ArgumentOutOfRangeException.ThrowIfNegative(x);
        if (x == 0)
        {
            return 1;
        }

        if (double.IsPositiveInfinity(x))
        {
            return 0;
        }

        double front = Math.Exp((a * Math.Log(x)) - x - LogGamma(a));
        return x < a + 1 ? 1 - (front * LowerSeries(a, x)) : front * UpperFraction(a, x);
    }

    private static double LowerSeries(double a, double x)
    {
        double term = 1 / a;
        double sum = term;
        for (double n = a + 1; term > sum * 1e-17; n++)
        {
            term *= x / n;
            sum += term;
        }

        return sum;
    }

    // Modified Lentz evaluation of the continued fraction of Γ(a, x).
    private static double UpperFraction(double a, double x)
    {
        const double Tiny = 1e-300;
        double b = x + 1 - a;
        double c = 1 / Tiny;
        double d = 1 / b;
        double value = d;
        for (int i = 1; i < 10_000; i++)
        {
            double term = -i * (i - a);
            b += 2;
            d = (term * d) + b;
            d = Math.Abs(d) < Tiny ? Tiny : d;
            c = b + (term / c);
            c = Math.Abs(c) < Tiny ? Tiny : c;
            d = 1 / d;
            double step = d * c;
            value *= step;
            if (Math.Abs(step - 1) < 1e-16)
            {
                break;
            }
        }

        return value;
    }

    /// <summary>Standard normal distribution function.</summary>
    public static double NormalCdf(double z)
    {
        if (Math.Abs(z) > 38)
        {
            return z > 0 ? 1 : 0;
        }

        double tail = 0.5 * UpperGamma(0.5, z * z / 2);
        return z > 0 ? 1 - tail : tail;
    }

    /// <summary>
    /// Standard normal quantile, 0 &lt; p &lt; 1: bisection on the distribution function to the last bit that matters. Called a few
    /// times a page, so plainness wins over speed.
    /// </summary>
    public static double NormalQuantile(double p)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(p);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(p, 1);
        if (p > 0.5)
        {
            return -NormalQuantile(1 - p);
        }

        double low = -39;
        double high = 0;
        for (int i = 0; i < 80; i++)
        {
            double middle = (low + high) / 2;
            (low, high) = NormalCdf(middle) < p ? (middle, high) : (low, middle);
        }

        return (low + high) / 2;
    }
}
