namespace Incubation.Core.Air;

/// <summary>
/// Water vapour in air. One formula throughout: saturation vapour pressure over liquid water after Sonntag 1990 (Zeitschrift für
/// Meteorologie 70:340), pure vapour, without the enhancement factor of moist air (under 0.5 % at ordinary pressure). Against IAPWS-95 it
/// is within 0.01 % from 0 to 60 °C; below 0 °C it speaks of supercooled water, within 0.1 % of Murphy and Koop 2005 down to −20 °C.
/// Convention: relative humidity and dew point refer to water at every temperature, as hygrometers and WMO-No. 8 (Annex 4.B) have it;
/// below 0 °C a table over ice gives the frost point, which is another figure.
/// </summary>
public static class Vapour
{
    /// <summary>Least temperature the formula is used at, °C: as cold as a plausible reading.</summary>
    public const double LeastCelsius = -40;

    /// <summary>Greatest temperature the formula is used at, °C: as warm as a plausible reading.</summary>
    public const double GreatestCelsius = 80;

    /// <summary>Dew points below this are not told, °C: the formula was fitted down to here.</summary>
    public const double LeastDewPoint = -100;

    /// <summary>Gas constant of water vapour, J/(kg·K): 8.314 462 618 J/(mol·K) over 18.015 268 g/mol (IAPWS R6-95: 461.518 05; to 1e-5).</summary>
    public const double GasConstant = 461.523;

    private const double ZeroCelsius = 273.15;

    /// <summary>Saturation vapour pressure over water, hPa.</summary>
    /// <param name="celsius">−40 to 80 °C.</param>
    /// <exception cref="ArgumentOutOfRangeException">The temperature is outside, or no number.</exception>
    public static double SaturationPressure(double celsius)
        => celsius is >= LeastCelsius and <= GreatestCelsius
            ? Saturated(celsius)
            : throw new ArgumentOutOfRangeException(nameof(celsius), celsius, "Vapour is told from −40 to 80 °C.");

    /// <summary>Pressure of the vapour in air, hPa.</summary>
    /// <param name="celsius">−40 to 80 °C.</param>
    /// <param name="humidity">0 to 100 %RH over water; more counts as 100.</param>
    public static double Pressure(double celsius, double humidity) => SaturationPressure(celsius) * Share(humidity);

    /// <summary>
    /// Dew point, °C over water: where the vapour that is there would be saturated. Solved from the same formula to 1e-9 °C, so at 100 %RH
    /// it is the temperature itself. Null for dry air (0 %RH) and below <see cref="LeastDewPoint"/>.
    /// </summary>
    /// <param name="celsius">−40 to 80 °C.</param>
    /// <param name="humidity">0 to 100 %RH over water; more counts as 100.</param>
    public static double? DewPoint(double celsius, double humidity)
    {
        double pressure = Pressure(celsius, humidity);
        if (pressure < Saturated(LeastDewPoint))
        {
            return null;
        }

        double goal = Math.Log(pressure);
        double dew = celsius;
        for (int i = 0; i < 50; i++)
        {
            double step = (LnSaturated(dew) - goal) / Slope(dew);
            dew = Math.Clamp(dew - step, LeastDewPoint, GreatestCelsius);
            if (Math.Abs(step) < 1e-10)
            {
                break;
            }
        }

        return dew;
    }

    /// <summary>Absolute humidity, g/m³: the ideal gas law. 0.2 % low at 30 °C, 0.4 % at 60 °C, since vapour is not quite ideal.</summary>
    /// <param name="celsius">−40 to 80 °C.</param>
    /// <param name="humidity">0 to 100 %RH over water; more counts as 100.</param>
    public static double AbsoluteHumidity(double celsius, double humidity)
        => Pressure(celsius, humidity) * 100_000 / (GasConstant * (celsius + ZeroCelsius));

    /// <summary>Vapour pressure deficit, kPa: what the air could still take up; 0 when saturated.</summary>
    /// <param name="celsius">−40 to 80 °C.</param>
    /// <param name="humidity">0 to 100 %RH over water; more counts as 100.</param>
    public static double Deficit(double celsius, double humidity) => SaturationPressure(celsius) * (1 - Share(humidity)) / 10;

    private static double Share(double humidity)
        => humidity >= 0
            ? Math.Min(humidity, 100) / 100
            : throw new ArgumentOutOfRangeException(nameof(humidity), humidity, "Relative humidity is 0 %RH or more.");

    private static double Saturated(double celsius) => Math.Exp(LnSaturated(celsius));

    private static double LnSaturated(double celsius)
    {
        double kelvin = celsius + ZeroCelsius;
        return (-6096.9385 / kelvin) + 16.635794 - (2.711193e-2 * kelvin) + (1.673952e-5 * kelvin * kelvin) + (2.433502 * Math.Log(kelvin));
    }

    private static double Slope(double celsius)
    {
        double kelvin = celsius + ZeroCelsius;
        return (6096.9385 / (kelvin * kelvin)) - 2.711193e-2 + (2 * 1.673952e-5 * kelvin) + (2.433502 / kelvin);
    }
}
