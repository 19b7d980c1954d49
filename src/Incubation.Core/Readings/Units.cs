namespace Incubation.Core.Readings;

/// <summary>
/// Units as they stand in payloads, turned into the unit a quantity is held in. Codes are those of UCUM
/// (https://ucum.org/ucum) and of the SenML units registry (RFC 8428, section 12.1; RFC 8798); <c>degF</c> and <c>%</c> are taken as people
/// write them. Without a unit a value is in the held one.
/// <list type="bullet">
/// <item>temperature: <c>Cel</c>, <c>[degF]</c>, <c>degF</c>, <c>K</c>, <c>Ohm</c> (a raw <see cref="PlatinumResistance"/>);</item>
/// <item>humidity: <c>%RH</c>, <c>%</c>;</item>
/// <item>battery: <c>%</c>, <c>%EL</c>; in <c>V</c> or <c>mV</c> it is another quantity, <c>battery-voltage</c>;</item>
/// <item>voltage: <c>V</c>, <c>mV</c>;</item>
/// <item>signal: <c>dBm</c>, <c>dBW</c>; in <c>%</c> it is another quantity, <c>signal-quality</c>;</item>
/// <item>contact: <c>/</c> and <c>open</c> for 1 = open, <c>closed</c> for contacts that say 1 when closed;</item>
/// <item>others: any unit, held as sent.</item>
/// </list>
/// </summary>
public static class Units
{
    /// <summary>0 °C in kelvin, exact by the definition of the degree Celsius (SI brochure, 9th edition, section 2.3).</summary>
    public const double ZeroCelsiusInKelvin = 273.15;

    /// <summary>0 dBW in dBm, exact: a watt is a thousand milliwatts.</summary>
    private const double WattInDecibelMilliwatt = 30;

    private const double Milli = 1e-3;

    /// <summary>Turns a value in °F into °C: exact by definition, (F − 32) × 5 ÷ 9.</summary>
    public static double FahrenheitToCelsius(double fahrenheit) => (fahrenheit - 32) * 5 / 9;

    /// <summary>Turns a value in °C into °F: C × 9 ÷ 5 + 32.</summary>
    public static double CelsiusToFahrenheit(double celsius) => celsius * 9 / 5 + 32;

    /// <summary>Turns a value in K into °C.</summary>
    public static double KelvinToCelsius(double kelvin) => kelvin - ZeroCelsiusInKelvin;

    /// <summary>Converts a value to the unit its quantity is held in.</summary>
    /// <param name="quantity">What was measured; becomes another one where the unit says so (a battery in volts).</param>
    /// <param name="unit">The unit's code in UTF-8, case-sensitive; empty means the held unit.</param>
    /// <param name="value">The value in that unit.</param>
    /// <param name="held">The value in the held unit; infinite when a resistance is none of a thermometer; 0 when the unit isn't one of this quantity.</param>
    /// <returns>Whether the unit is one of this quantity.</returns>
    public static bool TryConvert(ref Quantity quantity, ReadOnlySpan<byte> unit, double value, out double held)
    {
        held = value;
        if (unit.IsEmpty)
        {
            return true;
        }

        switch (quantity.Kind)
        {
            case QuantityKind.Temperature:
                return TryTemperature(unit, value, out held);
            case QuantityKind.Charge when TryVoltage(unit, value, out double volts):
                (quantity, held) = (new Quantity(quantity.Name + "-voltage"), volts);
                return true;
            case QuantityKind.Voltage:
                return TryVoltage(unit, value, out held);
            case QuantityKind.Signal when unit.SequenceEqual("%"u8):
                quantity = new Quantity(quantity.Name + "-quality");
                return true;
            case QuantityKind.Signal:
                return TrySignal(unit, value, out held);
            case QuantityKind.Contact when unit.SequenceEqual("closed"u8):
                held = 1 - value;
                return true;
            case QuantityKind.Other:
                return true;
            default:
                return IsHeld(quantity.Kind, unit);
        }
    }

    private static bool IsHeld(QuantityKind kind, ReadOnlySpan<byte> unit) => kind switch
    {
        QuantityKind.Humidity => unit.SequenceEqual("%RH"u8) || unit.SequenceEqual("%"u8),
        QuantityKind.Charge => unit.SequenceEqual("%"u8) || unit.SequenceEqual("%EL"u8),
        QuantityKind.Quality => unit.SequenceEqual("%"u8),
        _ => unit.SequenceEqual("/"u8) || unit.SequenceEqual("open"u8),
    };

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

        bool resistance = unit.SequenceEqual("Ohm"u8);
        held = resistance ? PlatinumResistance.Celsius(value) : 0;
        return resistance;
    }

    private static bool TryVoltage(ReadOnlySpan<byte> unit, double value, out double held)
    {
        bool milli = unit.SequenceEqual("mV"u8);
        held = milli ? value * Milli : value;
        return milli || unit.SequenceEqual("V"u8);
    }

    private static bool TrySignal(ReadOnlySpan<byte> unit, double value, out double held)
    {
        bool watt = unit.SequenceEqual("dBW"u8);
        held = watt ? value + WattInDecibelMilliwatt : value;
        return watt || unit.SequenceEqual("dBm"u8);
    }
}
