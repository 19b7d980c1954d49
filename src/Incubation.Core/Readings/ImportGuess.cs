namespace Incubation.Core.Readings;

/// <summary>How a file seems to be meant, with what can't be told from it.</summary>
/// <param name="Plan">The guess, which a person looks over before anything is read by it.</param>
/// <param name="Names">Names of the columns, by the header or by their number.</param>
/// <param name="Rows">The first records, without the header.</param>
/// <param name="Questions">What a person has to say, in words; empty when nothing is open.</param>
public sealed record ImportGuessed(
    ImportPlan Plan, IReadOnlyList<string> Names, IReadOnlyList<IReadOnlyList<string>> Rows, IReadOnlyList<string> Questions);

/// <summary>
/// Guesses from the start of a file how it is to be read: separator, decimal mark, header, the form of times, and what each column holds. A guess
/// never decides what can be read in two ways: then it leaves that open and asks.
/// </summary>
public static class ImportGuess
{
    private const int RowsShown = 12;

    private static readonly (string Word, string Quantity)[] QuantityWords =
    [
        ("room temp", "room-temperature"), ("temp", "temperature"), ("humid", "humidity"), ("feucht", "humidity"), ("hygro", "humidity"), ("rh", "humidity"),
        ("battery volt", "battery-voltage"), ("battery", "battery"), ("signal", "signal"), ("rssi", "signal"), ("door", "door"),
    ];

    private static readonly string[] UnitsInHeader = ["°C", "℃", "°F", "℉", "%RH", "% RH", "%rH", "% rH", "dBm", "mV", "degC", "degF", "%", "C", "F", "K", "V"];

    /// <summary>Guesses.</summary>
    /// <param name="head">Start of the file, without a byte order mark; its last line may be cut off.</param>
    /// <param name="whole">Whether that is all of the file.</param>
    /// <param name="zone">IANA name of the facility's time zone.</param>
    /// <param name="isKnown">Whether a key is that of a probe that is there.</param>
    /// <param name="said">The separator, when a person has said it.</param>
    public static ImportGuessed Of(ReadOnlySpan<byte> head, bool whole, string zone, Func<string, bool> isKnown, ImportSeparator? said = null)
    {
        ArgumentNullException.ThrowIfNull(isKnown);
        ImportEncoding encoding = ImportText.EncodingOf(head);
        ImportPlan plan = new(ImportSeparator.Comma, false, false, encoding, null, ImportRepeatedHour.Refuse, zone, [], []);
        ImportSample? best = null;
        foreach (ImportSeparator separator in said is { } one ? [one] : Enum.GetValues<ImportSeparator>())
        {
            ImportPlan other = plan with { Separator = separator };
            ImportSample sample = ImportSample.Of(head, whole, other.SeparatorByte, encoding);
            if (best is null || Worth(sample) > Worth(best))
            {
                (best, plan) = (sample, other);
            }
        }

        return Of(best!, plan, isKnown);
    }

    /// <summary>Looks at the start of a file by a plan that a person has made, for the names and rows to show beside it.</summary>
    public static ImportGuessed By(ImportPlan plan, ReadOnlySpan<byte> head, bool whole)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ImportSample sample = ImportSample.Of(head, whole, plan.SeparatorByte, plan.Encoding);
        return new ImportGuessed(plan, Names(sample, plan.Header), Shown(sample, plan.Header), []);
    }

    private static double Worth(ImportSample sample) => sample.Columns < 2 ? 0 : sample.Even * 100 + Math.Min(sample.Columns, 50) * 0.1;

    private static ImportGuessed Of(ImportSample sample, ImportPlan plan, Func<string, bool> isKnown)
    {
        IReadOnlyList<string>[] even = [.. sample.Rows.Where(row => row.Count == sample.Columns)];
        bool header = sample.Rows.Count > 0 && sample.Rows[0].All(cell => ImportCells.Look([cell]).Kind is CellKind.Words or CellKind.Empty)
            && sample.Rows[0].Any(cell => cell.Length > 0);
        CellLook[] looks = [.. Enumerable.Range(0, sample.Columns).Select(column => ImportCells.Look([.. even.Skip(header ? 1 : 0).Select(row => row[column])]))];
        IReadOnlyList<string> names = Names(sample, header);
        IReadOnlyList<ImportColumn> columns = Columns(names, header, looks, even, isKnown);
        bool export = IsExport(names, header);
        int time = Array.FindIndex(looks, look => look.Kind is CellKind.Time or CellKind.Date);
        plan = plan with
        {
            Header = header,
            DecimalComma = !export && looks.Any(look => look.Kind == CellKind.CommaNumber),
            TimeForm = export ? ImportTimeForm.Rfc3339 : time < 0 ? null : looks[time].Form,
            Columns = columns,
        };
        List<string> questions = [];
        if (export)
        {
            // Its columns are known, whatever stands in them.
        }
        else if (time < 0)
        {
            questions.Add("Which column holds the time, and how is it written?");
        }
        else if (looks[time].Asks)
        {
            questions.Add($"In “{names[time]}”, does the day come first or the month? The start of the file fits both.");
        }

        questions.AddRange(ImportPlanCheck.Problems(plan).Where(problem => problem.Key.StartsWith("columns[", StringComparison.Ordinal))
            .Select(problem => $"“{names[int.Parse(problem.Key[8..^1], System.Globalization.CultureInfo.InvariantCulture)]}”: {problem.Value[0]}"));
        if (columns.All(column => column.Role != ImportRole.Value))
        {
            questions.Add("Which column holds values?");
        }

        return new ImportGuessed(plan, names, Shown(sample, header), questions);
    }

    private static bool IsExport(IReadOnlyList<string> names, bool header) => header && string.Join(',', names) + CsvText.EndOfRecord == CsvReadings.Header;

    private static ImportColumn[] Columns(
        IReadOnlyList<string> names, bool header, CellLook[] looks, IReadOnlyList<string>[] rows, Func<string, bool> isKnown)
    {
        // What this service writes itself; the corrected value is left out, since calibrations correct whatever is read.
        if (IsExport(names, header))
        {
            return
            [
                new(ImportRole.Time), new(ImportRole.Probe), new(ImportRole.Quantity), new(ImportRole.Unit), new(ImportRole.Value), new(ImportRole.Ignore),
                new(ImportRole.Marks),
            ];
        }

        ImportColumn[] columns = [.. looks.Select((look, index) => Column(names[index], header, look, rows.Skip(header ? 1 : 0).Select(row => row[index]), isKnown))];
        bool time = false;
        for (int i = 0; i < columns.Length; i++)
        {
            // The first time is the time of the reading; a second one may be when it was sent.
            bool first = columns[i].Role is ImportRole.Time or ImportRole.Date && !time;
            time |= first;
            columns[i] = columns[i].Role is ImportRole.Time or ImportRole.Date && !first ? new ImportColumn(ImportRole.Ignore) : columns[i];
        }

        int date = Array.FindIndex(columns, column => column.Role == ImportRole.Date);
        if (date >= 0 && columns.All(column => column.Role != ImportRole.Clock))
        {
            columns[date] = new ImportColumn(ImportRole.Time);
        }
        else if (date < 0)
        {
            columns = [.. columns.Select(column => column.Role == ImportRole.Clock ? new ImportColumn(ImportRole.Ignore) : column)];
        }

        if (columns.Any(column => column is { Role: ImportRole.Value, Probe: null }) && columns.All(column => column.Role != ImportRole.Probe)
            && Repeating(columns, looks, [.. rows.Skip(header ? 1 : 0)]) is { } repeating)
        {
            columns[repeating] = new ImportColumn(ImportRole.Probe);
        }

        return columns;
    }

    // The one column of words that come again and again on every line is likely to say which probe it was; a note is not on every line.
    private static int? Repeating(ImportColumn[] columns, CellLook[] looks, IReadOnlyList<string>[] rows)
    {
        int[] may =
        [
            .. Enumerable.Range(0, columns.Length).Where(i => looks[i].Kind == CellKind.Words && columns[i].Role == ImportRole.Ignore
                && rows.All(row => row[i].Length > 0) && rows.Select(row => row[i]).Distinct(StringComparer.Ordinal).Count() * 4 <= rows.Length),
        ];
        return may.Length == 1 ? may[0] : null;
    }

    private static ImportColumn Column(string name, bool header, CellLook look, IEnumerable<string> cells, Func<string, bool> isKnown)
    {
        string said = header ? name.ToLowerInvariant() : "";
        switch (look.Kind)
        {
            case CellKind.Time:
                return new ImportColumn(ImportRole.Time);
            case CellKind.Date:
                return new ImportColumn(ImportRole.Date);
            case CellKind.Clock:
                return new ImportColumn(ImportRole.Clock);
            case CellKind.Number or CellKind.CommaNumber:
                return said is "no" or "no." or "nr" or "nr." or "#" or "id" or "index" or "line" ? new ImportColumn(ImportRole.Ignore) : Value(name, said, header, isKnown);
            case CellKind.Words:
                string[] words = [.. cells.Where(cell => cell.Length > 0).Distinct(StringComparer.Ordinal).Take(50)];
                return words.All(word => ImportNames.QuantityOf(word) is { } quantity && Quantity.Known.Contains(quantity)) ? new ImportColumn(ImportRole.Quantity)
                    : words.All(word => ImportNames.UnitOf(word).AsSpan() is var unit && (unit.SequenceEqual("Cel"u8) || unit.SequenceEqual("[degF]"u8) || unit.SequenceEqual("K"u8) || unit.SequenceEqual("%RH"u8) || unit.SequenceEqual("%"u8)))
                        ? new ImportColumn(ImportRole.Unit)
                    : said is "marks" ? new ImportColumn(ImportRole.Marks)
                    : said.Contains("probe", StringComparison.Ordinal) || said.Contains("sensor", StringComparison.Ordinal) || said.Contains("device", StringComparison.Ordinal)
                        || said.Contains("logger", StringComparison.Ordinal) || said is "name" or "source" || words.All(isKnown)
                        ? new ImportColumn(ImportRole.Probe)
                    : new ImportColumn(ImportRole.Ignore);
            default:
                return new ImportColumn(ImportRole.Ignore);
        }
    }

    private static ImportColumn Value(string name, string said, bool header, Func<string, bool> isKnown)
    {
        string? quantity = Array.Find(QuantityWords, one => said.Contains(one.Word, StringComparison.Ordinal)).Quantity;
        string? unit = Array.Find(UnitsInHeader, one => name.EndsWith($"({one})", StringComparison.Ordinal) || name.EndsWith($"[{one}]", StringComparison.Ordinal)
            || name.EndsWith(" " + one, StringComparison.Ordinal));
        quantity ??= unit is null ? null
            : ImportNames.UnitOf(unit) is var code && (code.AsSpan().SequenceEqual("Cel"u8) || code.AsSpan().SequenceEqual("[degF]"u8) || code.AsSpan().SequenceEqual("K"u8)) ? "temperature"
            : code.AsSpan().SequenceEqual("%RH"u8) ? "humidity"
            : null;
        // A column that bears the name of a probe holds what that probe measured.
        string? probe = header && isKnown(name.Trim()) ? name.Trim() : null;
        return new ImportColumn(ImportRole.Value, probe, quantity, unit);
    }

    private static IReadOnlyList<string> Names(ImportSample sample, bool header) =>
        [.. Enumerable.Range(0, sample.Columns).Select(i => header && i < sample.Rows[0].Count && sample.Rows[0][i].Trim() is { Length: > 0 } name
            ? name
            : string.Create(System.Globalization.CultureInfo.InvariantCulture, $"Column {i + 1}"))];

    private static IReadOnlyList<IReadOnlyList<string>> Shown(ImportSample sample, bool header) => [.. sample.Rows.Skip(header ? 1 : 0).Take(RowsShown)];
}
