using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>
/// Makes readings of the records of a file, by a plan. What it makes of a record depends on that record, the plan and the two times alone, so that a
/// file may be read on from any record. Not for several threads at once.
/// </summary>
public sealed class ImportReader
{
    /// <summary>No reading is older: loggers without a battery wake up in 1970 or 2000.</summary>
    public static readonly Instant Earliest = Instant.FromUtc(2000, 1, 1, 0, 0);

    // Text of a field is looked up without being made a string; longer ones are no names.
    private const int LongestName = 256;

    private readonly ImportPlan _plan;
    private readonly ImportProbes _probes;
    private readonly ImportTime _time;
    private readonly Instant _latest, _importedAt;
    private readonly int _timeAt, _clockAt, _probeAt, _quantityAt, _unitAt, _marksAt;
    private readonly (int Index, string? Probe, Quantity? Quantity, byte[]? Unit)[] _values;
    private readonly Dictionary<string, Quantity?> _quantities = new(StringComparer.Ordinal);
    private readonly Dictionary<string, byte[]> _units = new(StringComparer.Ordinal);

    /// <summary>Prepares to read.</summary>
    /// <param name="plan">A plan without problems.</param>
    /// <param name="probes">Which probes the names stand for.</param>
    /// <param name="latest">Time after which no reading can be.</param>
    /// <param name="importedAt">When the readings are brought in: their <see cref="Reading.ArrivedAt"/>.</param>
    public ImportReader(ImportPlan plan, ImportProbes probes, Instant latest, Instant importedAt)
    {
        ArgumentNullException.ThrowIfNull(plan);
        (_plan, _probes, _latest, _importedAt) = (plan, probes, latest, importedAt);
        _time = new ImportTime(plan.TimeForm ?? throw new ArgumentException("The plan does not say how times are written.", nameof(plan)),
            DateTimeZoneProviders.Tzdb[plan.Zone], plan.RepeatedHour);
        _timeAt = Math.Max(plan.IndexOf(ImportRole.Time), plan.IndexOf(ImportRole.Date));
        _clockAt = plan.IndexOf(ImportRole.Clock);
        _probeAt = plan.IndexOf(ImportRole.Probe);
        _quantityAt = plan.IndexOf(ImportRole.Quantity);
        _unitAt = plan.IndexOf(ImportRole.Unit);
        _marksAt = plan.IndexOf(ImportRole.Marks);
        _values = [.. plan.Columns.Select((column, index) => (column, index)).Where(one => one.column.Role == ImportRole.Value).Select(one => (
            one.index, one.column.Probe, one.column.Quantity is { } name ? new Quantity(name) : (Quantity?)null,
            string.IsNullOrEmpty(one.column.Unit) ? null : ImportNames.UnitOf(one.column.Unit)))];
    }

    /// <summary>Takes what a record holds.</summary>
    /// <param name="bytes">The record.</param>
    /// <param name="scanner">The scanner that found it.</param>
    /// <param name="fields">How many fields it has.</param>
    /// <param name="line">Number of its first line of text.</param>
    /// <param name="into">Where the readings go.</param>
    /// <param name="refused">Is told of what is not taken.</param>
    public void Read(ReadOnlySpan<byte> bytes, CsvScanner scanner, int fields, long line, List<Reading> into, Action<ImportRefusal> refused)
    {
        ArgumentNullException.ThrowIfNull(scanner);
        ArgumentNullException.ThrowIfNull(into);
        ArgumentNullException.ThrowIfNull(refused);
        int columns = _plan.Columns.Count;
        // Some programs end every line in a separator.
        if (fields != columns && !(fields == columns + 1 && scanner[columns].Length == 0))
        {
            refused(Refusal(bytes, line, 0, ImportWords.FieldCount));
            return;
        }

        Instant at = default;
        string? refusal = _time.TryRead(Bytes(bytes, scanner, _timeAt), _clockAt < 0 ? default : Bytes(bytes, scanner, _clockAt), out at)
            ?? (at > _latest ? ImportWords.Future : at < Earliest ? ImportWords.LongAgo : null);
        ReadingMarks marks = ReadingMarks.None;
        if (refusal is null && _marksAt >= 0 && !CsvReadings.TryMarks(Bytes(bytes, scanner, _marksAt), out marks))
        {
            refusal = ImportWords.UnknownMark;
        }

        if (refusal is not null)
        {
            refused(Refusal(bytes, line, 0, refusal));
            return;
        }

        int found = 0;
        foreach ((int index, string? probe, Quantity? quantity, byte[]? unit) in _values)
        {
            ReadOnlySpan<byte> value = Bytes(bytes, scanner, index).Trim((byte)' ');
            if (value.IsEmpty && _values.Length > 1)
            {
                // In a file with a column for each, an empty one means that nothing was measured then.
                continue;
            }

            found++;
            if (Take(bytes, scanner, value, (probe, quantity, unit), at, marks, out Reading reading) is { } wrong)
            {
                refused(Refusal(bytes, line, index + 1, wrong));
            }
            else
            {
                into.Add(reading);
            }
        }

        if (found == 0)
        {
            refused(Refusal(bytes, line, 0, ImportWords.NoValue));
        }
    }

    /// <summary>What is said of a line that is no record.</summary>
    public ImportRefusal Refusal(ReadOnlySpan<byte> bytes, long line, int column, string reason) =>
        new(line, column, reason, ImportText.Start(bytes, _plan.Encoding));

    private string? Take(
        ReadOnlySpan<byte> bytes, CsvScanner scanner, ReadOnlySpan<byte> text, (string? Probe, Quantity? Quantity, byte[]? Unit) column,
        Instant at, ReadingMarks marks, out Reading reading)
    {
        reading = default;
        if (text.IsEmpty)
        {
            return ImportWords.NoValue;
        }

        string? probe = column.Probe;
        if (probe is null)
        {
            Span<char> name = stackalloc char[LongestName];
            if (!TryName(bytes, scanner, _probeAt, ref name))
            {
                return ImportWords.WrongLetters;
            }

            if (_probes.Find(name, out probe) is { } nobody)
            {
                return nobody;
            }
        }

        if ((column.Quantity ?? QuantityOf(bytes, scanner)) is not { } quantity)
        {
            return ImportWords.NoQuantity;
        }

        if (!ImportNumber.TryRead(text, _plan.DecimalComma, out double value))
        {
            return ImportWords.NotNumber;
        }

        if (!Units.TryConvert(ref quantity, column.Unit ?? UnitOf(bytes, scanner), value, out double held))
        {
            return Rejections.UnknownUnit(quantity);
        }

        // Judged by itself: what it is worth may not hang on where in the file reading went on.
        switch (ReadingJudge.Judge(quantity, held, previous: null))
        {
            case ValueVerdict.TooLow:
                return Rejections.Implausible(quantity, low: true);
            case ValueVerdict.TooHigh:
                return Rejections.Implausible(quantity, low: false);
            case ValueVerdict.Faulty:
                marks |= ReadingMarks.Faulty;
                break;
            case ValueVerdict.Saturated:
                marks |= ReadingMarks.Saturated;
                break;
        }

        if (!double.IsFinite(held))
        {
            return ImportWords.NotNumber;
        }

        reading = new Reading(new SeriesKey(probe!, quantity), held, at, _importedAt, marks | ReadingMarks.Imported);
        return null;
    }

    private Quantity? QuantityOf(ReadOnlySpan<byte> bytes, CsvScanner scanner)
    {
        Span<char> name = stackalloc char[LongestName];
        if (!TryName(bytes, scanner, _quantityAt, ref name))
        {
            return null;
        }

        if (_quantities.GetAlternateLookup<ReadOnlySpan<char>>().TryGetValue(name, out Quantity? known))
        {
            return known;
        }

        Quantity? quantity = ImportNames.QuantityOf(name);
        if (_quantities.Count < Limits.Probes)
        {
            _quantities.Add(name.ToString(), quantity);
        }

        return quantity;
    }

    private byte[] UnitOf(ReadOnlySpan<byte> bytes, CsvScanner scanner)
    {
        Span<char> name = stackalloc char[LongestName];
        if (_unitAt < 0 || !TryName(bytes, scanner, _unitAt, ref name))
        {
            return _unitAt < 0 ? [] : [(byte)'?'];
        }

        if (_units.GetAlternateLookup<ReadOnlySpan<char>>().TryGetValue(name, out byte[]? known))
        {
            return known;
        }

        byte[] unit = ImportNames.UnitOf(name);
        if (_units.Count < Limits.Probes)
        {
            _units.Add(name.ToString(), unit);
        }

        return unit;
    }

    private bool TryName(ReadOnlySpan<byte> bytes, CsvScanner scanner, int column, ref Span<char> name)
    {
        CsvField field = scanner[column];
        ReadOnlySpan<byte> text = bytes.Slice(field.Start, field.Length);
        if (System.Text.Ascii.IsValid(text) && !field.Doubled && text.Length <= name.Length)
        {
            System.Text.Ascii.ToUtf16(text, name, out int written);
            name = name[..written];
            return true;
        }

        bool good = ImportText.TryRead(text, _plan.Encoding, field.Doubled, out string read);
        if (read.Length > name.Length)
        {
            read = read[..name.Length];
        }

        read.CopyTo(name);
        name = name[..read.Length];
        return good;
    }

    private static ReadOnlySpan<byte> Bytes(ReadOnlySpan<byte> bytes, CsvScanner scanner, int column)
    {
        CsvField field = scanner[column];
        return bytes.Slice(field.Start, field.Length);
    }
}
