namespace Incubation.Simulation.Embryos;

/// <summary>
/// How fast embryos develop at a temperature: a curve that starts at a floor, bends, peaks and falls to nothing at a ceiling. Its form
/// is Briere's (Briere et al. 1999, Environ. Entomol. 28:22–29, first model): <c>r = a·T·(T − zero)·√(ceiling − T)</c>. Only the
/// simulation knows it: no forecaster is told the form or the figures.
/// </summary>
public sealed record RateCurve
{
    private readonly double _scale;

    /// <summary>A curve that takes <paramref name="days"/> at <paramref name="celsius"/>.</summary>
    /// <param name="zero">Developmental zero, °C; at it and below nobody develops. Not below 0.</param>
    /// <param name="ceiling">Temperature at which development has come to a stop again, °C.</param>
    /// <param name="celsius">Temperature at which the duration is given, °C, between the two.</param>
    /// <param name="days">Days from laying to pip there; more than 0.</param>
    /// <exception cref="ArgumentException">The figures are not in that order.</exception>
    public RateCurve(double zero, double ceiling, double celsius, double days)
    {
        if (!(zero >= 0 && celsius > zero && ceiling > celsius && days > 0))
        {
            throw new ArgumentException("A rate curve needs 0 ≤ zero < temperature < ceiling and a duration of more than 0 days.", nameof(zero));
        }
        (Zero, Ceiling) = (zero, ceiling);
        _scale = 1 / (days * Shape(celsius));
    }

    /// <summary>Developmental zero, °C.</summary>
    public double Zero { get; }

    /// <summary>Where it stops again, °C.</summary>
    public double Ceiling { get; }

    /// <summary>Where it is fastest, °C: the root of the curve's derivative.</summary>
    public double Optimum
        => ((4 * Ceiling) + (3 * Zero) + Math.Sqrt((16 * Ceiling * Ceiling) + (9 * Zero * Zero) - (16 * Zero * Ceiling))) / 10;

    /// <summary>Share of the way from laying to pip that a day at this temperature brings; 0 at the zero and below, and from the ceiling on.</summary>
    public double PerDay(double celsius) => celsius <= Zero || celsius >= Ceiling ? 0 : _scale * Shape(celsius);

    private double Shape(double celsius) => celsius * (celsius - Zero) * Math.Sqrt(Ceiling - celsius);
}
