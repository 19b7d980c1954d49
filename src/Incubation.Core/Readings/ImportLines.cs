namespace Incubation.Core.Readings;

/// <summary>
/// Goes through the bytes of a file record by record and keeps count of where it is. It may be begun anew wherever <see cref="Position"/> was, and
/// finds the same. Not for several threads at once.
/// </summary>
/// <param name="plan">How the file is read; without problems.</param>
/// <param name="reader">Makes readings of its records.</param>
/// <param name="position">Where the bytes that come next lie in the file: 0, or where it was left off.</param>
/// <param name="line">Lines of text before that.</param>
public sealed class ImportLines(ImportPlan plan, ImportReader reader, long position, long line)
{
    private readonly CsvScanner _scanner = new(plan.SeparatorByte, Limits.ImportColumns, Limits.ImportLineBytes);

    // Bytes of a line that is too long, which is not done before its end.
    private long _ahead;
    private bool _begun = position > 0;

    /// <summary>Where the next record begins in the file.</summary>
    public long Position { get; private set; } = position;

    /// <summary>Lines of text that are done.</summary>
    public long Line { get; private set; } = line;

    /// <summary>Whether the header is still to come: before that there is nowhere to begin anew.</summary>
    public bool HeaderPending { get; private set; } = plan.Header && position == 0;

    /// <summary>Takes what stands next.</summary>
    /// <param name="bytes">From where it was left off; the first ones of a file may be a byte order mark.</param>
    /// <param name="last">Whether nothing follows them.</param>
    /// <param name="into">Where readings go.</param>
    /// <param name="refused">Is told of what is not taken.</param>
    /// <returns>Bytes that are used up; 0 when more are needed.</returns>
    public int Next(ReadOnlySpan<byte> bytes, bool last, List<Reading> into, Action<ImportRefusal> refused)
    {
        ArgumentNullException.ThrowIfNull(into);
        ArgumentNullException.ThrowIfNull(refused);
        if (!_begun && (bytes.Length >= 3 || last))
        {
            _begun = true;
            int mark = ImportText.MarkLength(bytes);
            Position += mark;
            if (mark > 0)
            {
                return mark;
            }
        }
        else if (!_begun)
        {
            return 0;
        }

        CsvRecord record = _scanner.Next(bytes, last);
        int length = record.Length, lines = record.Lines;
        switch (record.Found)
        {
            case CsvFound.More:
                _ahead += length;
                return length;
            case CsvFound.Fault:
                refused(reader.Refusal(bytes[..length], Line + 1, 0, ImportWords.Of(record.Fault)));
                break;
            case CsvFound.Record when !HeaderPending:
                int before = into.Count;
                reader.Read(bytes[..length], _scanner, record.Fields, Line + 1, into, refused);
                if (lines > 1 && into.Count == before && IsTorn(bytes[..length], record.Fields))
                {
                    // A quote that was closed by the next stray one, it seems: the lines in between have their own turn.
                    (length, lines) = (FirstLine(bytes[..length]), 1);
                }

                break;
        }

        HeaderPending &= record.Found == CsvFound.Blank;
        Line += lines;
        Position += _ahead + length;
        _ahead = 0;
        return length;
    }

    // A note may have several lines; a time, a name or a figure has not.
    private bool IsTorn(ReadOnlySpan<byte> record, int fields)
    {
        for (int i = 0; i < fields; i++)
        {
            CsvField field = _scanner[i];
            if ((i >= plan.Columns.Count || plan.Columns[i].Role != ImportRole.Ignore) && record.Slice(field.Start, field.Length).ContainsAny((byte)'\r', (byte)'\n'))
            {
                return true;
            }
        }

        return fields < plan.Columns.Count;
    }

    private static int FirstLine(ReadOnlySpan<byte> record)
    {
        int end = record.IndexOfAny((byte)'\r', (byte)'\n');
        return record[end] == '\r' && end + 1 < record.Length && record[end + 1] == '\n' ? end + 2 : end + 1;
    }
}
