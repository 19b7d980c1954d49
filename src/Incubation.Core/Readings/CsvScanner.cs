namespace Incubation.Core.Readings;

/// <summary>What stands at the beginning of some bytes of comma-separated values.</summary>
public enum CsvFound
{
    /// <summary>Not told yet: more bytes are needed.</summary>
    More,

    /// <summary>An empty line.</summary>
    Blank,

    /// <summary>A record.</summary>
    Record,

    /// <summary>A line that is no record.</summary>
    Fault,
}

/// <summary>Why a line is no record.</summary>
public enum CsvFault
{
    /// <summary>It is one.</summary>
    None,

    /// <summary>It is longer than a line may be.</summary>
    TooLong,

    /// <summary>A quote is opened in it and never closed.</summary>
    NotClosed,

    /// <summary>Something follows a closing quote that is neither separator nor line end (RFC 4180, section 2, rule 5).</summary>
    AfterQuote,

    /// <summary>It has more fields than are taken.</summary>
    TooManyFields,

    /// <summary>It has a zero byte, so it is no text.</summary>
    ZeroByte,
}

/// <summary>Where a field lies in the bytes of its record, without its quotes.</summary>
/// <param name="Start">First byte.</param>
/// <param name="Length">Bytes.</param>
/// <param name="Doubled">Whether quotes inside it are doubled.</param>
public readonly record struct CsvField(int Start, int Length, bool Doubled);

/// <summary>What was found, and how much of the bytes it takes.</summary>
/// <param name="Found">What it is.</param>
/// <param name="Length">Bytes that are used up, with the line end.</param>
/// <param name="Lines">Lines of text that are used up, as an editor counts them; 0 when more is needed.</param>
/// <param name="Fields">Fields of a record.</param>
/// <param name="Fault">Why it is no record.</param>
public readonly record struct CsvRecord(CsvFound Found, int Length, int Lines, int Fields = 0, CsvFault Fault = CsvFault.None);

/// <summary>
/// Reads records of RFC 4180, section 2, from bytes that come in pieces: fields in quotes may hold separators, line breaks and doubled quotes.
/// Beyond the standard it takes other separators, LF or CR alone as the end of a line, and a quote in the middle of a field as itself. One bad line
/// never costs the next: where a quote is not closed as it should be, only the line that opens it is given up, and reading goes on behind it.
/// Bytes may be in any encoding that has ASCII's bytes for ASCII's characters and no others. It remembers nothing but that it is inside a line
/// that is too long, so it may be begun anew at the start of any record.
/// </summary>
/// <param name="separator">What stands between fields: one byte of ASCII.</param>
/// <param name="mostFields">Fields that a record may have; one with more is a fault.</param>
/// <param name="longest">Bytes that a record may have; one with more is a fault.</param>
public sealed class CsvScanner(byte separator, int mostFields, int longest)
{
    private const byte Quote = (byte)'"', Return = (byte)'\r', Feed = (byte)'\n';

    private readonly CsvField[] _fields = new CsvField[mostFields];
    private int _count;
    private bool _skipping;

    /// <summary>Field of the record that was found last.</summary>
    public CsvField this[int index] => index < _count ? _fields[index] : throw new ArgumentOutOfRangeException(nameof(index));

    /// <summary>Looks at what comes next. The caller drops <see cref="CsvRecord.Length"/> bytes and asks again, with more where that is asked for.</summary>
    /// <param name="bytes">From the start of a record on, or what follows what was used up last.</param>
    /// <param name="last">Whether nothing follows these bytes.</param>
    public CsvRecord Next(ReadOnlySpan<byte> bytes, bool last)
    {
        _count = 0;
        if (_skipping)
        {
            return Skip(bytes, last);
        }

        if (bytes.IsEmpty)
        {
            return new CsvRecord(CsvFound.More, 0, 0);
        }

        return Read(bytes.Length > longest ? bytes[..longest] : bytes, last && bytes.Length <= longest);
    }

    private CsvRecord Read(ReadOnlySpan<byte> bytes, bool whole)
    {
        bool quotes = false, tooMany = false;
        int at = 0;
        while (true)
        {
            CsvField field;
            if (at < bytes.Length && bytes[at] == Quote)
            {
                quotes = true;
                if (!TryQuoted(bytes, at + 1, whole, out field))
                {
                    return Unended(bytes, whole, CsvFault.NotClosed);
                }

                at = field.Start + field.Length + 1;
                if (at < bytes.Length && bytes[at] != separator && bytes[at] is not (Return or Feed))
                {
                    return AfterQuote(bytes, at, whole);
                }
            }
            else
            {
                int length = bytes[at..].IndexOfAny(separator, Return, Feed);
                if (length < 0 && !whole)
                {
                    return Unended(bytes, whole: false, CsvFault.TooLong);
                }

                field = new CsvField(at, length < 0 ? bytes.Length - at : length, false);
                at += field.Length;
            }

            tooMany |= _count == _fields.Length;
            if (!tooMany)
            {
                _fields[_count++] = field;
            }

            if (at < bytes.Length && bytes[at] == separator)
            {
                at++;
            }
            else if (at == bytes.Length - 1 && bytes[at] == Return && !whole)
            {
                return Unended(bytes, whole: false, CsvFault.TooLong);
            }
            else
            {
                return Ended(bytes[..Behind(bytes, at)], quotes, tooMany);
            }
        }
    }

    private CsvRecord Ended(ReadOnlySpan<byte> record, bool quotes, bool tooMany)
    {
        int lines = quotes ? Math.Max(1, record.Count(Feed)) : 1;
        return record.Contains((byte)0) ? Fault(record.Length, lines, CsvFault.ZeroByte)
            : tooMany ? Fault(record.Length, lines, CsvFault.TooManyFields)
            : _count == 1 && _fields[0].Length == 0 && !quotes ? new CsvRecord(CsvFound.Blank, record.Length, lines)
            : new CsvRecord(CsvFound.Record, record.Length, lines, _count);
    }

    // From behind the opening quote to the closing one; false when that is not there, or not known to be it.
    private static bool TryQuoted(ReadOnlySpan<byte> bytes, int start, bool whole, out CsvField field)
    {
        bool doubled = false;
        for (int at = start; ; at += 2)
        {
            int next = bytes[at..].IndexOf(Quote);
            if (next < 0 || (at + next == bytes.Length - 1 && !whole))
            {
                field = default;
                return false;
            }

            at += next;
            if (at == bytes.Length - 1 || bytes[at + 1] != Quote)
            {
                field = new CsvField(start, at - start, doubled);
                return true;
            }

            doubled = true;
        }
    }

    private CsvRecord AfterQuote(ReadOnlySpan<byte> bytes, int at, bool whole)
    {
        int first = bytes.IndexOfAny(Return, Feed);
        return first >= 0 && first < at ? Fault(Behind(bytes, first), 1, CsvFault.AfterQuote)
            : first < 0 || (first == bytes.Length - 1 && bytes[first] == Return && !whole) ? Unended(bytes, whole, CsvFault.AfterQuote)
            : Fault(Behind(bytes, first), 1, CsvFault.AfterQuote);
    }

    // The record does not end within the bytes: there is more to come, or it is given up line by line.
    private CsvRecord Unended(ReadOnlySpan<byte> bytes, bool whole, CsvFault fault)
    {
        if (!whole && bytes.Length < longest)
        {
            return new CsvRecord(CsvFound.More, 0, 0);
        }

        int first = bytes.IndexOfAny(Return, Feed);
        if (first >= 0)
        {
            return Fault(Behind(bytes, first), 1, fault);
        }

        if (whole)
        {
            return Fault(bytes.Length, 1, fault);
        }

        _skipping = true;
        return new CsvRecord(CsvFound.More, bytes.Length, 0);
    }

    private CsvRecord Skip(ReadOnlySpan<byte> bytes, bool last)
    {
        int end = bytes.IndexOfAny(Return, Feed);
        if ((end < 0 || (end == bytes.Length - 1 && bytes[end] == Return)) && !last)
        {
            return new CsvRecord(CsvFound.More, end < 0 ? bytes.Length : end, 0);
        }

        _skipping = false;
        return Fault(end < 0 ? bytes.Length : Behind(bytes, end), 1, CsvFault.TooLong);
    }

    private CsvRecord Fault(int length, int lines, CsvFault fault)
    {
        _count = 0;
        return new CsvRecord(CsvFound.Fault, length, lines, 0, fault);
    }

    private static int Behind(ReadOnlySpan<byte> bytes, int at) =>
        at >= bytes.Length ? bytes.Length : bytes[at] == Return && at + 1 < bytes.Length && bytes[at + 1] == Feed ? at + 2 : at + 1;
}
