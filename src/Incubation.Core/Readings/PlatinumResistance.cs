namespace Incubation.Core.Readings;

/// <summary>
/// Temperature of a platinum resistance thermometer from its resistance, by the Callendar–Van Dusen equation with the coefficients of
/// IEC 60751:2022 (the same as in IEC 60751:2008): R(t) = R₀ (1 + A t + B t² + C (t − 100) t³), with C only below 0 °C, −200…850 °C.
/// Against the standard's tables the inverse is good to 0.001 °C; what a thermometer of class A is good for is ±(0.15 + 0.002·|t|) °C.
/// </summary>
public static class PlatinumResistance
{
    /// <summary>Coefficient A, 1/°C.</summary>
    public const double A = 3.9083e-3;

    /// <summary>Coefficient B, 1/°C².</summary>
    public const double B = -5.775e-7;

    /// <summary>Coefficient C, 1/°C⁴; below 0 °C only.</summary>
    public const double C = -4.183e-12;

    /// <summary>Least temperature of the equation, °C.</summary>
    public const double LeastCelsius = -200;

    /// <summary>Greatest temperature of the equation, °C.</summary>
    public const double GreatestCelsius = 850;

    // A Pt100 has 390.5 Ω at 850 °C and a Pt1000 has 185 Ω at −200 °C, 843 Ω at −40 °C: from 400 Ω up it is a Pt1000 in any egg room.
    private const double Pt1000From = 400;

    private const int Steps = 6;

    /// <summary>Resistance of a thermometer of 100 Ω at 0 °C, Ω.</summary>
    /// <param name="celsius">Temperature, −200…850 °C.</param>
    public static double Ohms(double celsius) => 100 * Ratio(celsius);

    /// <summary>Temperature from a resistance, °C: of a Pt100 below 400 Ω, of a Pt1000 from there up.</summary>
    /// <param name="ohms">Resistance, Ω.</param>
    /// <returns>Temperature; −∞ or +∞ when the resistance is outside the equation's range, as with a short or a broken wire.</returns>
    public static double Celsius(double ohms)
    {
        double ratio = ohms / (ohms < Pt1000From ? 100 : 1000);
        if (!(ratio >= Ratio(LeastCelsius)))
        {
            return double.NegativeInfinity;
        }

        if (ratio > Ratio(GreatestCelsius))
        {
            return double.PositiveInfinity;
        }

        // The zero that is added makes no difference but to −0.
        double celsius = (-A + Math.Sqrt(A * A - 4 * B * (1 - ratio))) / (2 * B) + 0.0;
        // Below 0 °C the fourth power counts: Newton's steps from the quadratic's answer, which is at most 2.5 °C off.
        for (int step = 0; celsius < 0 && step < Steps; step++)
        {
            celsius -= (Ratio(celsius) - ratio) / Slope(celsius);
        }

        return celsius;
    }

    private static double Ratio(double t) => 1 + t * (A + t * (B + (t < 0 ? C * (t - 100) * t : 0)));

    private static double Slope(double t) => A + t * (2 * B + C * t * (4 * t - 300));
}
