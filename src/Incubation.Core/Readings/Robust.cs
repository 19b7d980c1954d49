namespace Incubation.Core.Readings;

/// <summary>Order statistics that one wild value does not move.</summary>
internal static class Robust
{
    /// <summary>The median; NaN of nothing. Sorts a copy.</summary>
    public static double Median(ReadOnlySpan<double> values)
    {
        if (values.IsEmpty)
        {
            return double.NaN;
        }

        double[] sorted = values.ToArray();
        Array.Sort(sorted);
        int middle = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }

    /// <summary>Mean of the lower three quarters of a span, which is sorted in place.</summary>
    public static double LowerMean(Span<double> values)
    {
        values.Sort();
        int kept = values.Length * 3 / 4;
        double sum = 0;
        foreach (double value in values[..kept])
        {
            sum += value;
        }

        return sum / kept;
    }
}
