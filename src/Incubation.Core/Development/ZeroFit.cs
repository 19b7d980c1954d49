namespace Incubation.Core.Development;

/// <summary>Days from laying to pip at a constant temperature, as published or as the keeper measured.</summary>
/// <param name="Celsius">Temperature, °C.</param>
/// <param name="Days">Duration, d, more than 0.</param>
public readonly record struct ConstantDuration(double Celsius, double Days);

/// <summary>
/// Developmental zero and thermal constant from durations at constant temperatures, by the x-intercept of the line of 1/d on T
/// (Campbell et al. 1974, J. Appl. Ecol. 11:431-438; error formulas from memory). T0 and K of one fit belong together and are
/// never mixed with those of another.
/// </summary>
/// <param name="Zero">T0 = −a/b, °C.</param>
/// <param name="ZeroError">Standard error of T0, °C; not a number with fewer than three temperatures.</param>
/// <param name="Constant">K = 1/b, °C·d.</param>
/// <param name="ConstantError">Standard error of K, °C·d; not a number with fewer than three temperatures.</param>
/// <param name="RSquared">Share of the variation of 1/d that the line explains.</param>
/// <param name="MeanCelsius">Mean of the temperatures fitted, °C: the anchor, where T0 hardly matters.</param>
/// <param name="MeanRate">Mean of the rates fitted, 1/d.</param>
/// <param name="MeanRateError">Standard error of that mean, 1/d.</param>
/// <param name="SlopeError">Standard error of the slope, 1/(°C·d).</param>
public sealed record ZeroFit(
    double Zero, double ZeroError, double Constant, double ConstantError, double RSquared, double MeanCelsius, double MeanRate,
    double MeanRateError, double SlopeError)
{
    /// <summary>The fit as a rate.</summary>
    public LinearRate Rate => new(Zero, Constant);

    /// <summary>Fits the line by ordinary least squares.</summary>
    /// <param name="durations">At least two different temperatures.</param>
    /// <exception cref="ArgumentException">Too few temperatures, a duration that is not positive, or no rise with warmth.</exception>
    public static ZeroFit Of(IReadOnlyList<ConstantDuration> durations)
    {
        ArgumentNullException.ThrowIfNull(durations);
        if (durations.Select(duration => duration.Celsius).Distinct().Count() < 2)
        {
            throw new ArgumentException("At least two different temperatures are needed to fit a line.", nameof(durations));
        }

        if (durations.Any(duration => !(duration.Days > 0) || !double.IsFinite(duration.Celsius)))
        {
            throw new ArgumentException("Durations must be more than zero days, at a temperature.", nameof(durations));
        }

        int n = durations.Count;
        double x = durations.Average(duration => duration.Celsius);
        double y = durations.Average(duration => 1 / duration.Days);
        double sxx = durations.Sum(duration => Square(duration.Celsius - x));
        double sxy = durations.Sum(duration => (duration.Celsius - x) * ((1 / duration.Days) - y));
        double syy = durations.Sum(duration => Square((1 / duration.Days) - y));
        double slope = sxy / sxx;
        if (!(slope > 0))
        {
            throw new ArgumentException("Warmer did not hatch sooner in these figures, so there is no developmental zero.", nameof(durations));
        }

        double residual = Math.Max(0, syy - (slope * sxy));
        double variance = n > 2 ? residual / (n - 2) : double.NaN;
        double slopeError = Math.Sqrt(variance / sxx);
        double zeroError = y / slope * Math.Sqrt((variance / (n * y * y)) + Square(slopeError / slope));
        return new ZeroFit(
            x - (y / slope), zeroError, 1 / slope, slopeError / (slope * slope), syy > 0 ? 1 - (residual / syy) : 1, x, y,
            Math.Sqrt(variance / n), slopeError);
    }

    private static double Square(double value) => value * value;
}
