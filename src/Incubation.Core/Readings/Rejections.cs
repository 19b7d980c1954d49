using System.Globalization;

namespace Incubation.Core.Readings;

/// <summary>
/// Why a payload can't be read, in words that name the cause and the fix. They hold nothing of the payload: equal faults get equal words,
/// so the list of rejected messages can count them, and a flood of them allocates nothing.
/// </summary>
internal static class Rejections
{
    public const string Empty = "The payload is empty. Send a number such as 31.4, or a JSON object.";
    public const string NotUtf8 = "The payload is not UTF-8 text. Send digits, or a JSON object in UTF-8.";
    public const string NotNumber = "The payload is neither a number nor a JSON object. Send a number such as 31.4, without a unit or quotes.";
    public const string DecimalComma = "The number has a decimal comma. Send a decimal point, such as 31.4.";
    public const string ZeroByte = "There is a zero byte in the payload. Send text, and without its terminator.";
    public const string NotFinite = "The value is not a finite number. Send nothing when the sensor has no value.";
    public const string List = "The payload is a JSON list. Send one reading per message, as a number or an object.";
    public const string BrokenJson = "The JSON object is broken or something follows it. Send one whole object and nothing else.";
    public const string TemperatureUnit = "The unit is none of temperature. Send Cel, [degF], degF or K.";
    public const string HumidityUnit = "The unit is none of humidity. Send %RH or %.";
    public const string TooCold = "The temperature is below -40 °C, which no egg room has. Check the sensor, its wiring and the unit.";
    public const string TooHot = "The temperature is above 80 °C, which no egg room has. Check the sensor, its wiring and the unit.";
    public const string TooDry = "The humidity is below 0 %RH. Check the sensor and its calibration.";
    public const string TooWet = "The humidity is above 105 %RH, which is no humidity. Check the sensor and the unit.";

    public static readonly string TooLarge = string.Create(CultureInfo.InvariantCulture,
        $"The payload has more than {Limits.PayloadBytes} bytes. Send one reading per message.");

    public static string UnknownUnit(Quantity quantity) => quantity == Quantity.Humidity ? HumidityUnit : TemperatureUnit;

    public static string TooLow(Quantity quantity) => quantity == Quantity.Humidity ? TooDry : TooCold;

    public static string TooHigh(Quantity quantity) => quantity == Quantity.Humidity ? TooWet : TooHot;
}
