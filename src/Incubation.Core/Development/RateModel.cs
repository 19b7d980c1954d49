namespace Incubation.Core.Development;

/// <summary>How fast an embryo develops at a temperature, as the share of the time from laying to pip used up per day.</summary>
public abstract record RateModel
{
    /// <summary>Rate at a constant temperature, 1/d; 0 where nothing moves.</summary>
    /// <param name="celsius">Temperature, °C.</param>
    public abstract double PerDay(double celsius);

    /// <summary>Share used up along a straight line of temperature; models with kinks take them exactly themselves.</summary>
    /// <param name="piece">The line, °C.</param>
    public virtual double Over(Piece piece)
    {
        // On parts of at most 1 °C a smooth rate is as good as a polynomial to five points.
        int parts = (int)Math.Clamp(Math.Ceiling(Math.Abs(piece.UntilValue - piece.FromValue)), 1, 200);
        double sum = 0;
        for (int part = 0; part < parts; part++)
        {
            double a = piece.FromValue + ((piece.UntilValue - piece.FromValue) * part / parts);
            double b = piece.FromValue + ((piece.UntilValue - piece.FromValue) * (part + 1) / parts);
            sum += FivePoints.Mean(a, b, PerDay);
        }

        return sum / parts * piece.Days;
    }

    /// <summary>Days from laying to pip at a constant temperature; infinite where nothing moves.</summary>
    public double DaysAt(double celsius) => PerDay(celsius) is > 0 and var rate ? 1 / rate : double.PositiveInfinity;
}

/// <summary>The straight line: rate = (T − T0)/K, none below T0, and no faster above a cut-off (Campbell et al. 1974).</summary>
/// <param name="Zero">Developmental zero T0, °C.</param>
/// <param name="Constant">Thermal constant K, °C·d, more than 0.</param>
/// <param name="CutOff">Temperature above which it goes no faster, °C, or null.</param>
public sealed record LinearRate(double Zero, double Constant, double? CutOff = null) : RateModel
{
    /// <inheritdoc/>
    public override double PerDay(double celsius) =>
        Math.Max(0, Math.Min(celsius, CutOff ?? double.PositiveInfinity) - Zero) / Constant;

    /// <inheritdoc/>
    public override double Over(Piece piece) => DegreeDays.Of(piece, Zero, CutOff) / Constant;
}

/// <summary>
/// A curve with an optimum: a·T·(T − T0)·(TL − T)^(1/m), zero outside T0 to TL (Briere et al. 1999, Environ. Entomol. 28:22-29;
/// m = 2 is its first form).
/// </summary>
/// <param name="A">Scale.</param>
/// <param name="Zero">Lower threshold T0, °C.</param>
/// <param name="Lethal">Upper threshold TL, °C.</param>
/// <param name="M">Root, 2 in the first form.</param>
public sealed record BriereRate(double A, double Zero, double Lethal, double M = 2) : RateModel
{
    /// <inheritdoc/>
    public override double PerDay(double celsius) => celsius <= Zero || celsius >= Lethal
        ? 0
        : A * celsius * (celsius - Zero) * Math.Pow(Lethal - celsius, 1 / M);

    /// <inheritdoc/>
    public override double Over(Piece piece)
    {
        double low = Math.Min(piece.FromValue, piece.UntilValue);
        double high = Math.Max(piece.FromValue, piece.UntilValue);
        if (high - low < 1e-6)
        {
            return PerDay(piece.Mean) * piece.Days;
        }

        double from = Math.Clamp(low, Zero, Lethal);
        double until = Math.Clamp(high, Zero, Lethal);
        return until > from ? Area(from, until) / (high - low) * piece.Days : 0;
    }

    // The root has no slope at TL. Over u = (TL - T)^(1/m) it has: for m = 2 a polynomial that five points take exactly.
    private double Area(double from, double until)
    {
        double low = Math.Pow(Lethal - until, 1 / M);
        double high = Math.Pow(Lethal - from, 1 / M);
        const int Parts = 4;
        double width = (high - low) / Parts;
        double sum = 0;
        for (int part = 0; part < Parts; part++)
        {
            double start = low + (part * width);
            sum += FivePoints.Mean(start, start + width, Inner) * width;
        }

        return sum;
    }

    private double Inner(double u)
    {
        double celsius = Lethal - Math.Pow(u, M);
        return A * celsius * (celsius - Zero) * M * Math.Pow(u, M);
    }

    /// <summary>Temperature of the greatest rate, °C.</summary>
    public double Optimum
    {
        get
        {
            double lead = (2 * M * Lethal) + ((M + 1) * Zero);
            double root = Math.Sqrt((4 * M * M * Lethal * Lethal) + ((M + 1) * (M + 1) * Zero * Zero) - (4 * M * M * Zero * Lethal));
            return (lead + root) / ((4 * M) + 2);
        }
    }
}

/// <summary>Five-point Gauss-Legendre quadrature: exact for polynomials up to the ninth degree.</summary>
internal static class FivePoints
{
    /// <summary>Mean of a function between two points.</summary>
    public static double Mean(double a, double b, Func<double, double> function)
    {
        double middle = (a + b) / 2;
        double half = (b - a) / 2;
        return (0.28444444444444444 * function(middle))
            + (0.23931433524968324 * (function(middle - (half * 0.5384693101056831)) + function(middle + (half * 0.5384693101056831))))
            + (0.11846344252809454 * (function(middle - (half * 0.9061798459386640)) + function(middle + (half * 0.9061798459386640))));
    }
}
