namespace Incubation.Core.Readings;

/// <summary>
/// Units as they stand in payloads, turned into the unit a quantity is held in. Codes are those of UCUM
/// (https://ucum.org/ucum) and of the SenML units registry (RFC 8428, section 12.1); <c>degF</c> and <c>%</c> are taken as people write them.
/// </summary>
public static class Units
{
    /// <summary>0 °C in kelvin, exact by the definition of the degree Celsius (SI brochure, 9th edition, section 2.3).</summary>
    public const double ZeroCelsiusInKelvin = 273.15;

    /// <summary>Turns a value in °F into °C: exact by definition, (F − 32) × 5 ÷ 9.</summary>
    public static double FahrenheitToCelsius(double fahrenheit) => (fahrenheit - 32) * 5 / 9;

    /// <summary>Turns a value in °C into °F: C × 9 ÷ 5 + 32.</summary>
    public static double CelsiusToFahrenheit(double celsius) => celsius * 9 / 5 + 32;

    /// <summary>Turns a value in K into °C.</summary>
    public static double KelvinToCelsius(double kelvin) => kelvin - ZeroCelsiusInKelvin;

    /// <summary>Converts a value to the unit its quantity is held in: °C or %RH. Other quantities are held as sent, in any unit.</summary>
    /// <param name="quantity">What was measured.</param>
    /// <param name="unit">The unit's code in UTF-8, case-sensitive; empty means the held unit.</param>
    /// <param name="value">The value in that unit.</param>
    /// <param name="held">The value in the held unit; 0 when the unit isn't one of this quantity.</param>
    /// <returns>Whether the unit is one of this quantity.</returns>
    public static bool TryConvert(Quantity quantity, ReadOnlySpan<byte> unit, double value, out double held)
    {
        held = value;
        if (unit.IsEmpty)
        {
            return true;
        }

        if (quantity == Quantity.Temperature)
        {
            return TryTemperature(unit, value, out held);
        }

        if (quantity != Quantity.Humidity || unit.SequenceEqual("%RH"u8) || unit.SequenceEqual("%"u8))
        {
            return true;
        }

        held = 0;
        return false;
    }

    private static bool TryTemperature(ReadOnlySpan<byte> unit, double value, out double held)
    {
        held = value;
        if (unit.SequenceEqual("Cel"u8))
        {
            return true;
        }

        if (unit.SequenceEqual("[degF]"u8) || unit.SequenceEqual("degF"u8))
        {
            held = FahrenheitToCelsius(value);
            return true;
        }

        if (unit.SequenceEqual("K"u8))
        {
            held = KelvinToCelsius(value);
            return true;
        }

        held = 0;
        return false;
    }
}
