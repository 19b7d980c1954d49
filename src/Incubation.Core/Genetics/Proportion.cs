namespace Incubation.Core.Genetics;

/// <summary>A measured share with its Wilson interval (Wilson 1927, J. Am. Stat. Assoc. 22:209; compared in Newcombe 1998).</summary>
/// <param name="Count">How many did.</param>
/// <param name="Of">Out of how many, ≥ 1.</param>
/// <param name="Low">Lower limit of the interval, 0 to 1.</param>
/// <param name="High">Upper limit of the interval, 0 to 1.</param>
/// <param name="Confidence">Of the interval, for example 0.95.</param>
public sealed record Proportion(int Count, int Of, double Low, double High, double Confidence)
{
    /// <summary>Count / Of.</summary>
    public double Value => (double)Count / Of;

    /// <summary>The share of <paramref name="count"/> in <paramref name="of"/>, or null when there is nothing to count in.</summary>
    /// <param name="count">0 to <paramref name="of"/>.</param>
    /// <param name="of">≥ 0.</param>
    /// <param name="confidence">Between 0 and 1, exclusive.</param>
    /// <exception cref="ArgumentOutOfRangeException">A count is negative or more than there are, or the confidence is outside 0 to 1.</exception>
    public static Proportion? Measure(int count, int of, double confidence = 0.95)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(count);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(count, of);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(confidence);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(confidence, 1);
        if (of == 0)
        {
            return null;
        }

        double z = SpecialFunctions.NormalQuantile((1 + confidence) / 2);
        double n = of;
        double p = count / n;
        double scale = 1 / (1 + (z * z / n));
        double centre = scale * (p + (z * z / (2 * n)));
        double half = scale * z * Math.Sqrt((p * (1 - p) / n) + (z * z / (4 * n * n)));
        // At the ends the formula gives 0 and 1 but for rounding.
        double low = count == 0 ? 0 : Math.Max(0, centre - half);
        double high = count == of ? 1 : Math.Min(1, centre + half);
        return new Proportion(count, of, low, high, confidence);
    }
}
