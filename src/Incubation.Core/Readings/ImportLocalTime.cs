using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>A date and time of day as they stand in a file, and the offset where one follows.</summary>
internal readonly record struct LocalReading(LocalDateTime Local, Offset? Offset);

/// <summary>
/// Reads dates and times of day as loggers and spreadsheets write them: parts of a date between <c>-</c>, <c>/</c> or <c>.</c>; then blanks, a comma or a
/// T; hours, minutes, perhaps seconds with a part, perhaps AM or PM; after a date with the year first perhaps Z or an offset. A year of two digits is
/// one of this century. Only ASCII digits count.
/// </summary>
internal static class ImportLocalTime
{
    /// <summary>Longest text that may be a time, bytes.</summary>
    public const int Longest = 48;

    /// <summary>End of the year 9998, Unix milliseconds: any offset leads to a time that exists.</summary>
    public const long LastMillisecond = 253_370_764_799_999;

    public static bool TryRead(ReadOnlySpan<byte> text, ImportTimeForm form, out LocalReading read)
    {
        read = default;
        if (text.Length > Longest || !TryDate(ref text, form, out LocalDate date))
        {
            return false;
        }

        LocalTime time = LocalTime.Midnight;
        Offset? offset = null;
        if (text.Length > 0 && !(TryGap(ref text) && TryClock(ref text, out time) && TryEnd(text, form, out offset)))
        {
            return false;
        }

        read = new LocalReading(date + time, offset);
        return true;
    }

    private static bool TryDate(ref ReadOnlySpan<byte> text, ImportTimeForm form, out LocalDate date)
    {
        date = default;
        if (!TryNumber(ref text, 4, out int first, out int firstDigits) || text.IsEmpty || text[0] is not ((byte)'-' or (byte)'/' or (byte)'.'))
        {
            return false;
        }

        byte between = text[0];
        text = text[1..];
        if (!TryNumber(ref text, 2, out int second, out _) || text.IsEmpty || text[0] != between)
        {
            return false;
        }

        text = text[1..];
        if (!TryNumber(ref text, 4, out int third, out int thirdDigits))
        {
            return false;
        }

        (int year, int yearDigits, int month, int day) = form switch
        {
            ImportTimeForm.DayFirst => (third, thirdDigits, second, first),
            ImportTimeForm.MonthFirst => (third, thirdDigits, first, second),
            _ => (first, firstDigits, second, third),
        };
        if (yearDigits == 2 && form != ImportTimeForm.YearFirst)
        {
            year += 2000;
        }
        else if (yearDigits != 4)
        {
            return false;
        }

        if (year is < 1 or > 9998 || month is < 1 or > 12 || day < 1 || day > DateTime.DaysInMonth(year, month))
        {
            return false;
        }

        date = new LocalDate(year, month, day);
        return true;
    }

    // What stands between a date and a time of day.
    private static bool TryGap(ref ReadOnlySpan<byte> text)
    {
        int length = text[0] is (byte)'T' or (byte)'t' ? 1 : text[0] == ',' ? 1 : 0;
        ReadOnlySpan<byte> rest = text[length..].TrimStart((byte)' ');
        bool gap = rest.Length < text.Length;
        text = rest;
        return gap;
    }

    private static bool TryClock(ref ReadOnlySpan<byte> text, out LocalTime time)
    {
        time = default;
        if (!TryNumber(ref text, 2, out int hour, out _) || !TryColon(ref text) || !TryNumber(ref text, 2, out int minute, out int digits) || digits != 2)
        {
            return false;
        }

        int second = 0, millisecond = 0;
        if (TryColon(ref text))
        {
            if (!TryNumber(ref text, 2, out second, out digits) || digits != 2)
            {
                return false;
            }

            if (text.Length > 0 && text[0] is (byte)'.' or (byte)',' && !TryFraction(ref text, out millisecond))
            {
                return false;
            }
        }

        if (!TryHalf(ref text, ref hour) || hour > 23 || minute > 59 || second > 59)
        {
            return false;
        }

        time = new LocalTime(hour, minute, second, millisecond);
        return true;
    }

    // AM or PM: twelve o'clock is hour 0 of its half.
    private static bool TryHalf(ref ReadOnlySpan<byte> text, ref int hour)
    {
        ReadOnlySpan<byte> rest = text.TrimStart((byte)' ');
        if (rest.Length < 2 || (rest[1] | 0x20) != 'm' || (rest[0] | 0x20) is not ('a' or 'p'))
        {
            return true;
        }

        bool after = (rest[0] | 0x20) == 'p', right = hour is >= 1 and <= 12;
        hour = hour % 12 + (after ? 12 : 0);
        text = rest[2..];
        return right;
    }

    private static bool TryEnd(ReadOnlySpan<byte> text, ImportTimeForm form, out Offset? offset)
    {
        offset = null;
        text = text.TrimStart((byte)' ');
        if (text.IsEmpty || form != ImportTimeForm.YearFirst)
        {
            return text.IsEmpty;
        }

        if (text.Length == 1 && (text[0] | 0x20) == 'z')
        {
            offset = Offset.Zero;
            return true;
        }

        int sign = text[0] == '+' ? 1 : text[0] == '-' ? -1 : 0;
        text = text[1..];
        if (sign == 0 || !TryNumber(ref text, 2, out int hours, out int digits) || digits != 2)
        {
            return false;
        }

        TryColon(ref text);
        int minutes = 0;
        if ((text.Length > 0 && (!TryNumber(ref text, 2, out minutes, out digits) || digits != 2)) || text.Length > 0 || hours > 17 || minutes > 59)
        {
            return false;
        }

        offset = Offset.FromSeconds(sign * (hours * 3600 + minutes * 60));
        return true;
    }

    private static bool TryColon(ref ReadOnlySpan<byte> text)
    {
        bool colon = text.Length > 0 && text[0] == ':';
        text = colon ? text[1..] : text;
        return colon;
    }

    private static bool TryFraction(ref ReadOnlySpan<byte> text, out int millisecond)
    {
        millisecond = 0;
        int at = 1;
        for (int scale = 100; at < text.Length && text[at] is >= (byte)'0' and <= (byte)'9'; at++, scale /= 10)
        {
            millisecond += (text[at] - '0') * scale;
        }

        text = text[at..];
        return at > 1;
    }

    private static bool TryNumber(ref ReadOnlySpan<byte> text, int most, out int number, out int digits)
    {
        (number, digits) = (0, 0);
        while (digits < text.Length && digits < most && text[digits] is >= (byte)'0' and <= (byte)'9')
        {
            number = number * 10 + (text[digits++] - '0');
        }

        text = text[digits..];
        return digits > 0;
    }
}
