using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>
/// Timestamps of payloads: RFC 3339 section 5.6, strictly (a T, two digits everywhere, an offset), read from UTF-8 without allocating. Lower-case
/// <c>t</c> and <c>z</c> are valid there; a blank instead of the T is not taken. A leap second counts as the start of the next minute.
/// </summary>
public static class Rfc3339
{
    private const int FractionAt = 19;

    private static readonly int EpochDay = DateOnly.FromDateTime(DateTime.UnixEpoch).DayNumber;
    private static readonly long LastSecond = Instant.MaxValue.ToUnixTimeSeconds();

    /// <summary>Reads a timestamp, cut to the millisecond.</summary>
    /// <param name="text">The whole timestamp in UTF-8.</param>
    /// <param name="instant">The time, or the epoch when it can't be read.</param>
    public static bool TryParse(ReadOnlySpan<byte> text, out Instant instant)
    {
        instant = NodaConstants.UnixEpoch;
        if (text.Length < FractionAt + 1
            || text[4] != '-' || text[7] != '-' || (text[10] | 0x20) != 't' || text[13] != ':' || text[16] != ':'
            || !TryDigits(text[..4], out int year) || !TryDigits(text[5..7], out int month) || !TryDigits(text[8..10], out int day)
            || !TryDigits(text[11..13], out int hour) || !TryDigits(text[14..16], out int minute) || !TryDigits(text[17..19], out int second)
            || !TryFraction(text[FractionAt..], out int millisecond, out int used)
            || !TryOffset(text[(FractionAt + used)..], out int offsetMinutes)
            || year < 1 || month is < 1 or > 12 || day < 1 || day > DateTime.DaysInMonth(year, month)
            || hour > 23 || minute > 59 || second > 60)
        {
            return false;
        }

        long seconds = (new DateOnly(year, month, day).DayNumber - EpochDay) * 86_400L
            + hour * 3600 + minute * 60 + second - offsetMinutes * 60;
        // An offset or a leap second may lead out of the last year there is.
        if (seconds > LastSecond)
        {
            return false;
        }

        instant = Instant.FromUnixTimeSeconds(seconds) + Duration.FromMilliseconds(second == 60 ? 0 : millisecond);
        return true;
    }

    private static bool TryFraction(ReadOnlySpan<byte> text, out int millisecond, out int used)
    {
        (millisecond, used) = (0, 0);
        if (text[0] != '.')
        {
            return true;
        }

        int scale = 100;
        for (used = 1; used < text.Length && text[used] is >= (byte)'0' and <= (byte)'9'; used++)
        {
            millisecond += (text[used] - '0') * scale;
            scale /= 10;
        }

        return used > 1;
    }

    private static bool TryOffset(ReadOnlySpan<byte> text, out int minutes)
    {
        minutes = 0;
        if (text.Length == 1)
        {
            return (text[0] | 0x20) == 'z';
        }

        if (text.Length != 6 || text[0] is not ((byte)'+' or (byte)'-') || text[3] != ':'
            || !TryDigits(text[1..3], out int h) || !TryDigits(text[4..6], out int m) || h > 23 || m > 59)
        {
            return false;
        }

        minutes = (h * 60 + m) * (text[0] == '-' ? -1 : 1);
        return true;
    }

    private static bool TryDigits(ReadOnlySpan<byte> text, out int number)
    {
        number = 0;
        foreach (byte b in text)
        {
            if (b is < (byte)'0' or > (byte)'9')
            {
                return false;
            }

            number = number * 10 + (b - '0');
        }

        return true;
    }
}
