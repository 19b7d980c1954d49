using System.Text.Json;
using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>Reads a JSON object with a value, its unit and time, and other quantities in fields of their own.</summary>
internal ref struct PayloadObject
{
    private const int MaxDepth = 16;

    // The longest code is [degF]; a text much longer than that is no unit, and is not copied.
    private const int LongestUnit = 32;

    // The longest sensible timestamp: nanoseconds and an offset are 35 bytes.
    private const int LongestTime = 64;

    private readonly PayloadFields _fields;
    private Utf8JsonReader _json;
    private bool _valueSeen, _unitSeen, _timeSeen;
    private double? _value;
    private ReadOnlySpan<byte> _unit;
    private SentTime _time;
    private string? _reason;

    private PayloadObject(ReadOnlySpan<byte> text, PayloadFields fields)
    {
        _fields = fields;
        _json = new Utf8JsonReader(text, new JsonReaderOptions { MaxDepth = MaxDepth });
    }

    /// <summary>Reads the object into the sink; gives the reason when it can't.</summary>
    public static string? Read(ReadOnlySpan<byte> text, PayloadFields fields, ref PayloadSink sink)
    {
        PayloadObject reading = new(text, fields);
        // The reader tells of broken JSON by an exception only; it is caught here, and text that isn't JSON never comes this far.
        try
        {
            return reading.Read(ref sink);
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

    private string? Read(scoped ref PayloadSink sink)
    {
        _json.Read();
        ReadFields(_fields.Root, ref sink);
        _json.Read(); // Throws when something follows the object.
        if (_value is { } value)
        {
            if (sink.Source.Quantity is not { } quantity)
            {
                sink.LeaveOut(Rejections.NoQuantity);
            }
            else if (!sink.Add(sink.Source.Probe, quantity, _unit, value, once: true))
            {
                _reason ??= _fields.Twice;
            }
        }

        sink.AllAt(_time);
        return _reason;
    }

    private void ReadFields(PayloadField parent, scoped ref PayloadSink sink)
    {
        while (_json.Read() && _json.TokenType == JsonTokenType.PropertyName)
        {
            PayloadField? field = parent.Find(ref _json);
            _json.Read();
            switch (field?.Role)
            {
                case FieldRole.Value:
                    ReadValue(ref sink);
                    break;
                case FieldRole.Unit:
                    ReadUnit();
                    break;
                case FieldRole.At:
                    ReadTime();
                    break;
                case FieldRole.Quantity:
                    ReadQuantity(field, ref sink);
                    break;
                case FieldRole.Object when _json.TokenType == JsonTokenType.StartObject:
                    ReadFields(field, ref sink);
                    continue;
            }

            _json.Skip();
        }
    }

    private void ReadValue(scoped ref PayloadSink sink)
    {
        if (_valueSeen)
        {
            _reason ??= _fields.Twice;
        }
        else if (TryNumber(sink.Source.Quantity ?? default, out double number))
        {
            _value = number;
        }
        else
        {
            sink.LeaveOut(IsContact(sink.Source.Quantity ?? default) ? Rejections.NotContact : _fields.ValueNotNumber);
        }

        _valueSeen = true;
    }

    private void ReadUnit()
    {
        if (_unitSeen)
        {
            _reason ??= _fields.Twice;
        }
        else if (_json.TokenType == JsonTokenType.String)
        {
            _unit = Text(LongestUnit);
        }
        else if (_json.TokenType != JsonTokenType.Null)
        {
            _reason ??= _fields.UnitNotText;
        }

        _unitSeen = true;
    }

    private void ReadTime()
    {
        if (_timeSeen)
        {
            _reason ??= _fields.Twice;
        }

        _timeSeen = true;
        _time = _json.TokenType switch
        {
            // A board whose clock isn't set yet says so.
            JsonTokenType.Null => SentTime.None,
            JsonTokenType.String when _json.ValueSpan.IsEmpty => SentTime.None,
            JsonTokenType.String when Rfc3339.TryParse(Text(LongestTime), out Instant read) => SentTime.Moment(read),
            JsonTokenType.Number when _json.TryGetDouble(out double seconds) => SentTime.FromEpoch(seconds),
            _ => SentTime.Unreadable,
        };
    }

    private void ReadQuantity(PayloadField field, scoped ref PayloadSink sink)
    {
        if (_json.TokenType == JsonTokenType.Null)
        {
            // Nothing was measured this time.
            return;
        }

        if (!TryNumber(field.Quantity, out double number))
        {
            sink.LeaveOut(IsContact(field.Quantity) ? Rejections.NotContact : Rejections.FieldNotNumber);
        }
        else if (!sink.Add(sink.Source.Probe, field.Quantity, field.Unit, number, once: true))
        {
            _reason ??= _fields.Twice;
        }
    }

    private bool TryNumber(Quantity quantity, out double number)
    {
        switch (_json.TokenType)
        {
            case JsonTokenType.Number:
                number = _json.TryGetDouble(out double read) ? read : double.PositiveInfinity;
                return true;
            case JsonTokenType.True or JsonTokenType.False or JsonTokenType.String when IsContact(quantity):
                return ContactWords.TryRead(_json.ValueSpan, out number);
            default:
                number = 0;
                return false;
        }
    }

    private static bool IsContact(Quantity quantity) => quantity.Kind == QuantityKind.Contact;

    private ReadOnlySpan<byte> Text(int longest)
    {
        if (!_json.ValueIsEscaped || _json.ValueSpan.Length > longest * 6)
        {
            return _json.ValueSpan;
        }

        byte[] plain = new byte[_json.ValueSpan.Length];
        return plain.AsSpan(0, _json.CopyString(plain));
    }
}
