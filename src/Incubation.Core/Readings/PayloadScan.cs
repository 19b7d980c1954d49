using System.Text.Json;
using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>What stands in a payload, before it is judged. The unit points into the payload unless it had escapes.</summary>
internal readonly ref struct PayloadScan
{
    private const int MaxDepth = 16;

    // The longest code is [degF]; a text much longer than that is no unit, and is not copied.
    private const int LongestUnit = 32;

    // The longest sensible timestamp: nanoseconds and an offset are 35 bytes.
    private const int LongestTime = 64;

    private PayloadScan(double value, ReadOnlySpan<byte> unit, bool hasTime, Instant? time)
    {
        Value = value;
        Unit = unit;
        HasTime = hasTime;
        Time = time;
    }

    public double Value { get; }

    /// <summary>The unit's code; empty when none was sent.</summary>
    public ReadOnlySpan<byte> Unit { get; }

    /// <summary>Whether the probe sent a time at all.</summary>
    public bool HasTime { get; }

    /// <summary>That time, or null when it can't be read: a broken clock costs no reading.</summary>
    public Instant? Time { get; }

    public static PayloadScan Bare(double value) => new(value, default, false, null);

    /// <summary>Reads a JSON object; gives the reason when it can't.</summary>
    public static string? Object(ReadOnlySpan<byte> text, PayloadFields fields, out PayloadScan scan)
    {
        scan = default;
        // The reader tells of broken JSON by an exception only; it is caught here, and text that isn't JSON never comes this far.
        try
        {
            return Fields(text, fields, out scan);
        }
        catch (JsonException)
        {
            return Rejections.BrokenJson;
        }
        catch (InvalidOperationException)
        {
            // An escaped lone surrogate in a name or a text.
            return Rejections.NotUtf8;
        }
    }

    private static string? Fields(ReadOnlySpan<byte> text, PayloadFields fields, out PayloadScan scan)
    {
        scan = default;
        Utf8JsonReader json = new(text, new JsonReaderOptions { MaxDepth = MaxDepth });
        json.Read();
        double? value = null;
        ReadOnlySpan<byte> unit = default;
        bool unitSeen = false, timeSeen = false, hasTime = false;
        Instant? time = null;
        string? reason = null;
        while (json.Read() && json.TokenType == JsonTokenType.PropertyName)
        {
            if (json.ValueTextEquals(fields.ValueUtf8))
            {
                reason ??= value is not null ? fields.Twice : ReadValue(ref json, fields, out value);
            }
            else if (json.ValueTextEquals(fields.UnitUtf8))
            {
                reason ??= unitSeen ? fields.Twice : ReadUnit(ref json, fields, out unit);
                unitSeen = true;
            }
            else if (json.ValueTextEquals(fields.AtUtf8))
            {
                reason ??= timeSeen ? fields.Twice : null;
                timeSeen = true;
                json.Read();
                hasTime = ReadTime(ref json, out time);
            }
            else
            {
                json.Read();
            }

            Finish(ref json);
        }

        json.Read(); // Throws when something follows the object.
        scan = new PayloadScan(value ?? 0, unit, hasTime, time);
        return reason ?? (value is null ? fields.NoValue : double.IsFinite(value.Value) ? null : Rejections.NotFinite);
    }

    private static string? ReadValue(scoped ref Utf8JsonReader json, PayloadFields fields, out double? value)
    {
        json.Read();
        value = null;
        if (json.TokenType != JsonTokenType.Number)
        {
            return fields.ValueNotNumber;
        }

        value = json.TryGetDouble(out double number) ? number : double.PositiveInfinity;
        return null;
    }

    private static string? ReadUnit(scoped ref Utf8JsonReader json, PayloadFields fields, out ReadOnlySpan<byte> unit)
    {
        json.Read();
        unit = default;
        if (json.TokenType == JsonTokenType.Null)
        {
            return null;
        }

        if (json.TokenType != JsonTokenType.String)
        {
            return fields.UnitNotText;
        }

        unit = Text(ref json, LongestUnit);
        return null;
    }

    // False for null and empty text: a board whose clock isn't set yet says so.
    private static bool ReadTime(scoped ref Utf8JsonReader json, out Instant? time)
    {
        time = null;
        if (json.TokenType == JsonTokenType.Null || (json.TokenType == JsonTokenType.String && json.ValueSpan.IsEmpty))
        {
            return false;
        }

        if (json.TokenType == JsonTokenType.String && Rfc3339.TryParse(Text(ref json, LongestTime), out Instant read))
        {
            time = read;
        }

        return true;
    }

    private static ReadOnlySpan<byte> Text(scoped ref Utf8JsonReader json, int longest)
    {
        if (!json.ValueIsEscaped || json.ValueSpan.Length > longest * 6)
        {
            return json.ValueSpan;
        }

        byte[] plain = new byte[json.ValueSpan.Length];
        return plain.AsSpan(0, json.CopyString(plain));
    }

    // Steps over what is left of a value: a nested object, or a value that another reason left unread.
    private static void Finish(ref Utf8JsonReader json)
    {
        if (json.TokenType == JsonTokenType.PropertyName)
        {
            json.Read();
        }

        json.Skip();
    }
}
