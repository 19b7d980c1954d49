using System.Buffers;
using System.Globalization;
using System.Text.Unicode;

namespace Incubation.Core.Readings;

/// <summary>
/// Reads what a probe published: a bare number (or a word of a contact), a JSON object with a value and, if it likes, a unit, its own time and
/// other quantities, or a SenML pack in JSON or CBOR (RFC 8428). The first byte tells which. Never throws on bad input and takes one array from
/// the heap for a good number or object with one value. Depends on no culture.
/// </summary>
public static class PayloadReader
{
    private const NumberStyles Number = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent;

    private static readonly SearchValues<byte> NumberWithComma = SearchValues.Create("+-0123456789,"u8);

    /// <summary>Reads one payload.</summary>
    /// <param name="payload">The message's bytes. More than <see cref="Limits.PayloadBytes"/> are rejected unread.</param>
    /// <param name="source">Whose message it is, of what, and when it came.</param>
    /// <param name="fields">Names of the fields of a JSON object.</param>
    /// <param name="memory">What is remembered of the series; it is asked, and not changed.</param>
    public static PayloadResult Read(ReadOnlySpan<byte> payload, in PayloadSource source, PayloadFields fields, ISeriesMemory memory)
    {
        PayloadSink sink = new(source, memory);
        string? rejection = Gather(payload, fields, ref sink);
        return rejection is not null ? PayloadResult.Rejected(rejection) : sink.Finish(fields.NoValue);
    }

    private static string? Gather(ReadOnlySpan<byte> payload, PayloadFields fields, ref PayloadSink sink)
    {
        if (payload.Length > Limits.PayloadBytes)
        {
            return Rejections.TooLarge;
        }

        // No text begins with such a byte, so nothing that is meant as text is taken for CBOR.
        if (SenMLCbor.Looks(payload))
        {
            return SenMLReadings.Gather(payload, SenMLForm.Cbor, fields, ref sink);
        }

        ReadOnlySpan<byte> text = Trim(payload);
        if (text.IsEmpty)
        {
            return Rejections.Empty;
        }

        if (text.Contains((byte)0))
        {
            return Rejections.ZeroByte;
        }

        if (!Utf8.IsValid(text))
        {
            return Rejections.NotUtf8;
        }

        return text[0] switch
        {
            (byte)'{' => PayloadObject.Read(text, fields, ref sink),
            (byte)'[' => SenMLReadings.Gather(text, SenMLForm.Json, fields, ref sink),
            _ => BareNumber(text, ref sink),
        };
    }

    private static string? BareNumber(ReadOnlySpan<byte> text, ref PayloadSink sink)
    {
        bool contact = sink.Source.Quantity?.Kind == QuantityKind.Contact;
        if (!double.TryParse(text, Number, CultureInfo.InvariantCulture, out double value) && !(contact && ContactWords.TryRead(text, out value)))
        {
            return contact ? Rejections.NotContact : LooksLikeDecimalComma(text) ? Rejections.DecimalComma : Rejections.NotNumber;
        }

        if (sink.Source.Quantity is not { } quantity)
        {
            return Rejections.NoQuantity;
        }

        sink.Add(sink.Source.Probe, quantity, default, value);
        return null;
    }

    private static bool LooksLikeDecimalComma(ReadOnlySpan<byte> text)
    {
        int comma = text.IndexOf((byte)',');
        return comma > 0 && text.IndexOfAnyExcept(NumberWithComma) < 0;
    }

    // White space as JSON has it, and the byte order mark that some boards' file functions put in front.
    private static ReadOnlySpan<byte> Trim(ReadOnlySpan<byte> payload)
    {
        ReadOnlySpan<byte> text = payload.StartsWith("\uFEFF"u8) ? payload[3..] : payload;
        return text.Trim(" \t\r\n"u8);
    }
}
