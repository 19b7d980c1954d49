namespace Incubation.Core.Readings;

/// <summary>The first records of a file as text, for people to look at and to guess by.</summary>
/// <param name="Rows">Fields of each record.</param>
/// <param name="Columns">Fields of most records.</param>
/// <param name="Even">Share of the records that have as many, 0 to 1.</param>
public sealed record ImportSample(IReadOnlyList<IReadOnlyList<string>> Rows, int Columns, double Even)
{
    /// <summary>Records that are looked at.</summary>
    public const int MostRows = 200;

    /// <summary>Reads the first records of a file.</summary>
    /// <param name="head">Start of the file, without a byte order mark; its last line may be cut off.</param>
    /// <param name="whole">Whether that is all of the file.</param>
    /// <param name="separator">What stands between fields.</param>
    /// <param name="encoding">How letters are written.</param>
    public static ImportSample Of(ReadOnlySpan<byte> head, bool whole, byte separator, ImportEncoding encoding)
    {
        CsvScanner scanner = new(separator, Limits.ImportColumns, Limits.ImportLineBytes);
        List<IReadOnlyList<string>> rows = [];
        while (rows.Count < MostRows)
        {
            CsvRecord record = scanner.Next(head, whole);
            if (record.Length == 0)
            {
                break;
            }

            if (record.Found == CsvFound.Record)
            {
                string[] row = new string[record.Fields];
                for (int i = 0; i < row.Length; i++)
                {
                    CsvField field = scanner[i];
                    ImportText.TryRead(head.Slice(field.Start, Math.Min(field.Length, Limits.ImportLineShown)), encoding, field.Doubled, out row[i]);
                }

                rows.Add(row);
            }

            head = head[record.Length..];
        }

        int columns = rows.Count == 0 ? 0 : rows.GroupBy(row => row.Count).OrderByDescending(group => group.Count()).ThenByDescending(group => group.Key).First().Key;
        return new ImportSample(rows, columns, rows.Count == 0 ? 0 : (double)rows.Count(row => row.Count == columns) / rows.Count);
    }
}
