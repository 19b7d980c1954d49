using System.Buffers.Text;
using NodaTime;
using NodaTime.TimeZones;

namespace Incubation.Core.Readings;

/// <summary>
/// Reads the times of a file, by one form for all of it. Local times are by the clocks of one zone: one that never was, since the clocks were put
/// forward, is refused, and one that came twice is what the plan says. Not for several threads at once: it remembers between which changes of the
/// clocks it last was.
/// </summary>
/// <param name="form">How times are written.</param>
/// <param name="zone">Zone of local times.</param>
/// <param name="repeated">What is made of a time that came twice.</param>
public sealed class ImportTime(ImportTimeForm form, DateTimeZone zone, ImportRepeatedHour repeated)
{
    private static readonly Duration FromChange = Duration.FromDays(1);

    private LocalDateTime _calmFrom = LocalDateTime.MaxIsoValue, _calmTo = LocalDateTime.MinIsoValue;
    private Offset _offset;

    /// <summary>Reads a time.</summary>
    /// <param name="date">Date and time of day, or the date alone.</param>
    /// <param name="clock">The time of day, when another column holds it; else empty.</param>
    /// <param name="at">The time, to the millisecond.</param>
    /// <returns>Null, or why it can't be read.</returns>
    public string? TryRead(ReadOnlySpan<byte> date, ReadOnlySpan<byte> clock, out Instant at)
    {
        date = date.Trim((byte)' ');
        at = default;
        if (date.IsEmpty)
        {
            return ImportWords.NoTime;
        }

        switch (form)
        {
            case ImportTimeForm.Rfc3339:
                return Rfc3339.TryParse(date, out at) ? null
                    : ImportLocalTime.TryRead(date, ImportTimeForm.YearFirst, out _) ? ImportWords.NoOffset
                    : ImportWords.WrongTime;
            case ImportTimeForm.UnixSeconds:
                return TryUnix(date, 1000, out at) ? null : ImportWords.WrongTime;
            case ImportTimeForm.UnixMilliseconds:
                return TryUnix(date, 1, out at) ? null : ImportWords.WrongTime;
            default:
                return TryLocal(date, clock.Trim((byte)' '), out at);
        }
    }

    private string? TryLocal(scoped ReadOnlySpan<byte> date, scoped ReadOnlySpan<byte> clock, out Instant at)
    {
        at = default;
        Span<byte> both = stackalloc byte[ImportLocalTime.Longest];
        if (!clock.IsEmpty)
        {
            if (date.Length + clock.Length + 1 > both.Length)
            {
                return ImportWords.WrongTime;
            }

            date.CopyTo(both);
            both[date.Length] = (byte)' ';
            clock.CopyTo(both[(date.Length + 1)..]);
            date = both[..(date.Length + 1 + clock.Length)];
        }

        if (!ImportLocalTime.TryRead(date, form, out LocalReading read))
        {
            return ImportWords.WrongTime;
        }

        if (read.Offset is { } own)
        {
            at = read.Local.WithOffset(own).ToInstant();
            return null;
        }

        if (read.Local > _calmFrom && read.Local < _calmTo)
        {
            at = read.Local.WithOffset(_offset).ToInstant();
            return null;
        }

        return Map(read.Local, out at);
    }

    private string? Map(LocalDateTime local, out Instant at)
    {
        ZoneLocalMapping mapping = zone.MapLocal(local);
        at = default;
        switch (mapping.Count)
        {
            case 0:
                return ImportWords.NeverWas;
            case 1:
                at = mapping.Single().ToInstant();
                Remember(mapping.EarlyInterval);
                return null;
            default:
                at = (repeated == ImportRepeatedHour.Second ? mapping.Last() : mapping.First()).ToInstant();
                return repeated == ImportRepeatedHour.Refuse ? ImportWords.CameTwice : null;
        }
    }

    // A day from any change of the clocks there is nothing to look up.
    private void Remember(ZoneInterval interval)
    {
        _offset = interval.WallOffset;
        _calmFrom = interval.HasStart ? (interval.Start + FromChange).InUtc().LocalDateTime : new LocalDateTime(1900, 1, 1, 0, 0);
        _calmTo = interval.HasEnd ? (interval.End - FromChange).InUtc().LocalDateTime : new LocalDateTime(9000, 1, 1, 0, 0);
    }

    private static bool TryUnix(ReadOnlySpan<byte> text, int milliseconds, out Instant at)
    {
        at = default;
        if (!Utf8Parser.TryParse(text, out decimal number, out int used) || used != text.Length || number < 0
            || number * milliseconds > ImportLocalTime.LastMillisecond)
        {
            return false;
        }

        at = Instant.FromUnixTimeMilliseconds((long)decimal.Round(number * milliseconds));
        return true;
    }
}
