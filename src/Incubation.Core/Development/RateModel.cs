namespace Incubation.Core.Development;

/// <summary>How fast an embryo develops at a temperature, as the share of the time from laying to pip used up per day.</summary>
public abstract record RateModel
{
    /// <summary>Rate at a constant temperature, 1/d; 0 where nothing moves.</summary>
    /// <param name="celsius">Temperature, °C.</param>
    public abstract double PerDay(double celsius);

    /// <summary>Share used up along a straight line of temperature.</summary>
    /// <param name="piece">The line, °C.</param>
    public virtual double Over(Piece piece)
    {
        // Five-point Gauss-Legendre on parts of at most 1 °C: curved rates are smooth on that scale.
        int parts = (int)Math.Clamp(Math.Ceiling(Math.Abs(piece.UntilValue - piece.FromValue)), 1, 200);
        double sum = 0;
        for (int part = 0; part < parts; part++)
        {
            double a = piece.FromValue + ((piece.UntilValue - piece.FromValue) * part / parts);
            double b = piece.FromValue + ((piece.UntilValue - piece.FromValue) * (part + 1) / parts);
            double middle = (a + b) / 2;
            double half = (b - a) / 2;
            double mean = (0.28444444444444444 * PerDay(middle))
                + (0.23931433524968324 * (PerDay(middle - (half * 0.5384693101056831)) + PerDay(middle + (half * 0.5384693101056831))))
                + (0.11846344252809454 * (PerDay(middle - (half * 0.9061798459386640)) + PerDay(middle + (half * 0.9061798459386640))));
            sum += mean;
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
