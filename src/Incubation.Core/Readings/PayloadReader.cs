using System.Buffers;
using System.Globalization;
using System.Text.Unicode;
using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>
/// Reads what a probe published: a bare number, or a JSON object with a value and, if it likes, a unit and its own time. Never throws on bad
/// input and takes one array from the heap for a good one. Depends on no culture.
/// </summary>
public static class PayloadReader
{
    private const NumberStyles Number = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent;

    private static readonly SearchValues<byte> NumberWithComma = SearchValues.Create("+-0123456789,"u8);

    /// <summary>Reads one payload.</summary>
    /// <param name="payload">The message's bytes. More than <see cref="Limits.PayloadBytes"/> are rejected unread.</param>
    /// <param name="quantity">What the topic says was measured.</param>
    /// <param name="probe">The probe's name from the topic.</param>
    /// <param name="arrivedAt">When the message arrived.</param>
    /// <param name="fields">Names of the fields of a JSON object.</param>
    /// <param name="previous">The memory that the last payload of this series gave, or null at first.</param>
    public static PayloadResult Read(
        ReadOnlySpan<byte> payload, Quantity quantity, string probe, Instant arrivedAt, PayloadFields fields, ReadingMemory? previous)
    {
        string? rejection = Scan(payload, fields, out PayloadScan scan);
        if (rejection is not null)
        {
            return PayloadResult.Rejected(rejection, previous);
        }

        if (!Units.TryConvert(quantity, scan.Unit, scan.Value, out double held))
        {
            return PayloadResult.Rejected(Rejections.UnknownUnit(quantity), previous);
        }

        ValueVerdict verdict = ReadingJudge.Judge(quantity, held, previous);
        return verdict switch
        {
            ValueVerdict.TooLow => PayloadResult.Rejected(Rejections.TooLow(quantity), previous),
            ValueVerdict.TooHigh => PayloadResult.Rejected(Rejections.TooHigh(quantity), previous),
            _ => Accept(new SeriesKey(probe, quantity), held, verdict, scan, CutToMillisecond(arrivedAt), previous),
        };
    }

    private static PayloadResult Accept(
        SeriesKey series, double held, ValueVerdict verdict, in PayloadScan scan, Instant arrivedAt, ReadingMemory? previous)
    {
        ReadingMarks marks = verdict switch
        {
            ValueVerdict.Saturated => ReadingMarks.Saturated,
            ValueVerdict.Faulty => ReadingMarks.Faulty,
            _ => ReadingMarks.None,
        };
        Instant at = arrivedAt;
        Duration? clockOff = null;
        if (!scan.HasTime)
        {
            marks |= ReadingMarks.ArrivalTime;
        }
        else if (scan.Time is { } time && ProbeClock.Believes(time, arrivedAt))
        {
            at = time;
        }
        else
        {
            marks |= ReadingMarks.ClockOff;
            clockOff = scan.Time - arrivedAt;
        }

        Reading reading = new(series, held, at, arrivedAt, marks);
        return PayloadResult.Of(reading, reading.IsGood ? new ReadingMemory(held, at) : previous, clockOff);
    }

    private static string? Scan(ReadOnlySpan<byte> payload, PayloadFields fields, out PayloadScan scan)
    {
        scan = default;
        if (payload.Length > Limits.PayloadBytes)
        {
            return Rejections.TooLarge;
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
            (byte)'{' => PayloadScan.Object(text, fields, out scan),
            (byte)'[' => Rejections.List,
            _ => BareNumber(text, out scan),
        };
    }

    private static string? BareNumber(ReadOnlySpan<byte> text, out PayloadScan scan)
    {
        scan = default;
        if (!double.TryParse(text, Number, CultureInfo.InvariantCulture, out double value))
        {
            return LooksLikeDecimalComma(text) ? Rejections.DecimalComma : Rejections.NotNumber;
        }

        scan = PayloadScan.Bare(value);
        return double.IsFinite(value) ? null : Rejections.NotFinite;
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

    private static Instant CutToMillisecond(Instant instant) => Instant.FromUnixTimeMilliseconds(instant.ToUnixTimeMilliseconds());
}
