using System.Text;

namespace Incubation.Core.Readings;

/// <summary>Names of the fields of a JSON payload, and the reasons that speak of them (made once, since a flood may bring the same one).</summary>
public sealed class PayloadFields
{
    /// <summary>The names that probes use unless told otherwise: <c>value</c>, <c>unit</c>, <c>at</c>.</summary>
    public static PayloadFields Default { get; } = new("value", "unit", "at");

    /// <summary>Takes three different, non-empty names.</summary>
    /// <param name="value">Field of the measured number.</param>
    /// <param name="unit">Field of the unit's code.</param>
    /// <param name="at">Field of the probe's own time, RFC 3339.</param>
    /// <exception cref="ArgumentException">A name is empty, or two are the same.</exception>
    public PayloadFields(string value, string unit, string at)
    {
        ArgumentException.ThrowIfNullOrEmpty(value);
        ArgumentException.ThrowIfNullOrEmpty(unit);
        ArgumentException.ThrowIfNullOrEmpty(at);
        if (value == unit || unit == at || value == at)
        {
            throw new ArgumentException($"The fields of a payload need three different names, not {value}, {unit}, {at}.", nameof(value));
        }

        (Value, Unit, At) = (value, unit, at);
        (ValueUtf8, UnitUtf8, AtUtf8) = (Encoding.UTF8.GetBytes(value), Encoding.UTF8.GetBytes(unit), Encoding.UTF8.GetBytes(at));
        NoValue = $"The object has no field \"{value}\". Send {{\"{value}\":31.4}}.";
        ValueNotNumber = $"The field \"{value}\" is no number. Send it without quotes, such as {{\"{value}\":31.4}}.";
        UnitNotText = $"The field \"{unit}\" is no text. Send the unit's code in quotes, or leave the field out.";
        Twice = $"A field is there twice. Send \"{value}\", \"{unit}\" and \"{at}\" once each.";
    }

    /// <summary>Field of the measured number.</summary>
    public string Value { get; }

    /// <summary>Field of the unit's code.</summary>
    public string Unit { get; }

    /// <summary>Field of the probe's own time.</summary>
    public string At { get; }

    internal byte[] ValueUtf8 { get; }
    internal byte[] UnitUtf8 { get; }
    internal byte[] AtUtf8 { get; }
    internal string NoValue { get; }
    internal string ValueNotNumber { get; }
    internal string UnitNotText { get; }
    internal string Twice { get; }
}
