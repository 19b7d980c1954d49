using System.Globalization;

namespace Incubation.Core.Readings;

/// <summary>
/// Why a payload, or a part of it, can't be read, in words that name the cause and the fix. They hold nothing of the payload: equal faults get
/// equal words, so the list of rejected messages can count them, and a flood of them allocates nothing.
/// </summary>
internal static class Rejections
{
    public const string Empty = "The payload is empty. Send a number such as 31.4, or a JSON object.";
    public const string NotUtf8 = "The payload is not UTF-8 text. Send digits, or a JSON object in UTF-8.";
    public const string NotNumber = "The payload is neither a number nor a JSON object. Send a number such as 31.4, without a unit or quotes.";
    public const string DecimalComma = "The number has a decimal comma. Send a decimal point, such as 31.4.";
    public const string ZeroByte = "There is a zero byte in the payload. Send text, and without its terminator.";
    public const string NotFinite = "The value is not a finite number. Send nothing when the sensor has no value.";
    public const string BrokenJson = "The JSON object is broken or something follows it. Send one whole object and nothing else.";
    public const string FieldNotNumber = "A field of a quantity is no number. Send it without quotes, such as {\"temperature\":31.4}.";
    public const string NoQuantity = "Neither topic nor payload says what was measured. Put {quantity} in Incubation:Mqtt:Topic, or send named fields.";
    public const string NotContact = "The door is neither open nor closed. Send open or closed, true or false, 1 or 0.";

    // SenML packs.
    public const string List = "The payload is a JSON list but no SenML pack. Send a number, an object, or a list of SenML records (RFC 8428).";
    public const string BrokenPack = "The SenML pack is broken or something follows it. Send one whole list of records and nothing else.";
    public const string NoRecords = "The SenML pack has no record with a value. Send at least one, such as [{\"n\":\"temperature\",\"v\":31.4}].";
    public const string PackVersion = "The SenML pack is of a newer version than 10, or its version is no whole number. Send bver 10, or none.";
    public const string PackMustKnow = "The SenML pack has a field whose name ends in _, which must be understood (RFC 8428, 4.4), and isn't. Leave it out.";
    public const string PackBase = "A base field of the SenML pack is of a wrong type. Send bn and bu as text, bt, bv and bs as numbers.";
    public const string RecordField = "A field of a SenML record is of a wrong type or there twice. See RFC 8428, section 5, for what each one is.";
    public const string RecordName = "The name of a SenML record has characters that RFC 8428 (4.5.1) does not allow. Use A-Z a-z 0-9 - : . / _";
    public const string RecordValues = "A SenML record has more than one value or none. Send one of v, vb, vs and vd.";
    public const string RecordText = "A SenML record holds text or data where a number is measured. Send v, or vb for a door.";
    public const string RecordSum = "A sum (s, bs) in a SenML record is not used: a mean can't be told from it without its start. Send values (v).";
    public const string RecordQuantity = "A SenML record names no quantity. End its name in one, such as temperature, or send a unit such as Cel.";

    public const string TemperatureUnit = "The unit is none of temperature. Send Cel, [degF], degF, K, or Ohm for a raw platinum resistance.";
    public const string HumidityUnit = "The unit is none of humidity. Send %RH or %.";
    public const string OtherUnit = "The unit is none of this quantity. Send % or V for a battery, dBm or % for a signal, / for a contact.";
    public const string TooCold = "The temperature is below -40 °C, which no egg room has. Check the sensor, its wiring and the unit.";
    public const string TooHot = "The temperature is above 80 °C, which no egg room has. Check the sensor, its wiring and the unit.";
    public const string TooDry = "The humidity is below 0 %RH. Check the sensor and its calibration.";
    public const string TooWet = "The humidity is above 105 %RH, which is no humidity. Check the sensor and the unit.";
    public const string NoCharge = "The battery is outside 0 to 110 %. Send % of its charge, or its voltage with the unit V or mV.";
    public const string NoVoltage = "The voltage is outside 0 to 60 V. Send the voltage with its unit, V or mV.";
    public const string NoSignal = "The signal is outside -150 to 20 dBm. Send dBm, or the quality with the unit %.";
    public const string NoQuality = "The quality of the signal is outside 0 to 100 %. Send %, or the strength in dBm as signal.";

    public static readonly string TooLarge = string.Create(CultureInfo.InvariantCulture,
        $"The payload has more than {Limits.PayloadBytes} bytes. Send fewer readings in one message.");

    public static readonly string TooMany = string.Create(CultureInfo.InvariantCulture,
        $"There are more than {Limits.ReadingsPerMessage} readings in the message. Send fewer in one message.");

    public static string UnknownUnit(Quantity quantity) => quantity.Kind switch
    {
        QuantityKind.Temperature => TemperatureUnit,
        QuantityKind.Humidity => HumidityUnit,
        _ => OtherUnit,
    };

    /// <summary>Of a value outside what the quantity can be.</summary>
    public static string Implausible(Quantity quantity, bool low) => quantity.Kind switch
    {
        QuantityKind.Temperature => low ? TooCold : TooHot,
        QuantityKind.Humidity => low ? TooDry : TooWet,
        QuantityKind.Charge => NoCharge,
        QuantityKind.Voltage => NoVoltage,
        QuantityKind.Signal => NoSignal,
        QuantityKind.Quality => NoQuality,
        _ => NotContact,
    };
}
