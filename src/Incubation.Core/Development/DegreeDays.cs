namespace Incubation.Core.Development;

/// <summary>Degree-days: the area of the temperature's line above a threshold, up to a cut-off, in °C·d. Exact for straight lines.</summary>
public static class DegreeDays
{
    /// <summary>
    /// Area of (min(value, cut-off) − threshold)₊ under one line (horizontal cut-off, Zalom et al. 1983), with the crossings
    /// taken exactly.
    /// </summary>
    /// <param name="piece">The line, °C.</param>
    /// <param name="threshold">Developmental zero T0, °C.</param>
    /// <param name="cutOff">Temperature above which it counts no more, °C; null for none.</param>
    public static double Of(Piece piece, double threshold, double? cutOff = null)
    {
        double days = piece.Days;
        double area = Above(piece.FromValue - threshold, piece.UntilValue - threshold, days);
        return cutOff is { } upper
            ? area - Above(piece.FromValue - Math.Max(upper, threshold), piece.UntilValue - Math.Max(upper, threshold), days)
            : area;
    }

    /// <summary>Sum over all that is known; gaps count nothing and are to be reported by the caller (<see cref="Trace.Gaps"/>).</summary>
    /// <param name="trace">Temperature, °C.</param>
    /// <param name="threshold">Developmental zero T0, °C.</param>
    /// <param name="cutOff">Temperature above which it counts no more, °C; null for none.</param>
    public static double Sum(Trace trace, double threshold, double? cutOff = null)
    {
        ArgumentNullException.ThrowIfNull(trace);
        return trace.Pieces.Sum(piece => Of(piece, threshold, cutOff));
    }

    /// <summary>Degree-hours to degree-days.</summary>
    public static double FromDegreeHours(double degreeHours) => degreeHours / 24;

    /// <summary>°F·d to °C·d: 1 °C·d is 1.8 °F·d.</summary>
    public static double FromFahrenheit(double fahrenheitDays) => fahrenheitDays / 1.8;

    /// <summary>Area above zero of the line from a to b over a length.</summary>
    internal static double Above(double a, double b, double length)
    {
        if (a >= 0 && b >= 0)
        {
            return (a + b) / 2 * length;
        }

        if (a <= 0 && b <= 0)
        {
            return 0;
        }

        double high = Math.Max(a, b);
        return high * high / (2 * Math.Abs(a - b)) * length;
    }
}
