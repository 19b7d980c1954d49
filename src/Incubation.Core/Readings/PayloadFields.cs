using System.Text;

namespace Incubation.Core.Readings;

/// <summary>
/// Names of the fields of a JSON payload, and the reasons that speak of them (made once, since a flood may bring the same one). A name with
/// dots is a path into objects: <c>sensor.temp</c>. Beside the one value of the topic's quantity a message may hold other quantities, each
/// in a field of its own.
/// </summary>
public sealed class PayloadFields
{
    private readonly Dictionary<string, (Quantity Quantity, byte[] Unit)> _byName = new(StringComparer.Ordinal);

    /// <summary>The names that probes use unless told otherwise: <c>value</c>, <c>unit</c>, <c>at</c>, and the known quantities by their own names.</summary>
    public static PayloadFields Default { get; } = new("value", "unit", "at");

    /// <summary>Takes different, non-empty names.</summary>
    /// <param name="value">Field of the measured number of the topic's quantity.</param>
    /// <param name="unit">Field of that number's unit.</param>
    /// <param name="at">Field of the probe's own time: RFC 3339, or seconds or milliseconds since 1970.</param>
    /// <param name="quantities">
    /// Fields of further quantities: the field's name and what it holds, such as <c>temperature</c> or, with a unit, <c>temperature degF</c>.
    /// They come on top of the known quantities' own names; empty text takes a name away.
    /// </param>
    /// <exception cref="FormatException">A name is empty, too deep or there twice, or a quantity or unit is none. The message says which.</exception>
    public PayloadFields(string value, string unit, string at, IReadOnlyDictionary<string, string>? quantities = null)
    {
        (Value, Unit, At) = (value, unit, at);
        Put(value, FieldRole.Value);
        Put(unit, FieldRole.Unit);
        Put(at, FieldRole.At);
        Dictionary<string, string> fields = new(quantities ?? new Dictionary<string, string>(), StringComparer.Ordinal);
        foreach (Quantity known in Quantity.Known)
        {
            if (known.Name != value && known.Name != unit && known.Name != at)
            {
                fields.TryAdd(known.Name, known.Name);
            }
        }

        foreach ((string name, string holds) in fields)
        {
            if (!string.IsNullOrWhiteSpace(holds))
            {
                PutQuantity(name, holds.Split(' ', StringSplitOptions.RemoveEmptyEntries));
            }
        }

        NoValue = $"The object has no field \"{value}\". Send {{\"{value}\":31.4}}, or a field of a quantity, such as {{\"temperature\":31.4}}.";
        ValueNotNumber = $"The field \"{value}\" is no number. Send it without quotes, such as {{\"{value}\":31.4}}.";
        UnitNotText = $"The field \"{unit}\" is no text. Send the unit's code in quotes, or leave the field out.";
        Twice = $"A field or quantity is there twice. Send \"{value}\", \"{unit}\", \"{at}\" and each quantity once.";
    }

    /// <summary>Field of the measured number.</summary>
    public string Value { get; }

    /// <summary>Field of the unit's code.</summary>
    public string Unit { get; }

    /// <summary>Field of the probe's own time.</summary>
    public string At { get; }

    internal PayloadField Root { get; } = new("", FieldRole.Object);
    internal string NoValue { get; }
    internal string ValueNotNumber { get; }
    internal string UnitNotText { get; }
    internal string Twice { get; }

    /// <summary>What a field of that name holds, and in which unit (empty for the held one).</summary>
    internal bool TryQuantity(string name, out Quantity quantity, out byte[] unit)
    {
        bool found = _byName.TryGetValue(name, out (Quantity Quantity, byte[] Unit) field);
        (quantity, unit) = found ? field : (default, []);
        return found;
    }

    private void PutQuantity(string name, string[] words)
    {
        Quantity quantity = new(words[0]);
        string unit = words.Length > 1 ? words[1] : "";
        Quantity held = quantity;
        if (words.Length > 2 || !Quantity.IsName(quantity.Name))
        {
            throw new FormatException(
                $"The field {name} of a payload can't hold \"{string.Join(' ', words)}\". Name a quantity (a-z, 0-9, hyphen) and, if need be, a unit.");
        }

        if (!Units.TryConvert(ref held, Encoding.UTF8.GetBytes(unit), 1, out _))
        {
            throw new FormatException($"The field {name} of a payload can't hold {quantity.Name} in {unit}. {Rejections.UnknownUnit(quantity)}");
        }

        Put(name, FieldRole.Quantity, quantity, unit);
        _byName[name] = (quantity, Encoding.UTF8.GetBytes(unit));
    }

    private void Put(string path, FieldRole role, Quantity quantity = default, string unit = "")
    {
        string[] names = path.Split('.');
        if (names.Length > Limits.FieldDepth || Array.Exists(names, n => n.Length == 0))
        {
            throw new FormatException($"The field \"{path}\" of a payload is empty or more than {Limits.FieldDepth} levels deep.");
        }

        if (!Root.TryPut(path, role, quantity, unit))
        {
            throw new FormatException($"The fields of a payload need different names; \"{path}\" is there twice, or stands inside another.");
        }
    }
}
