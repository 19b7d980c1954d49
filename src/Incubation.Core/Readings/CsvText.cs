using System.Text;

namespace Incubation.Core.Readings;

/// <summary>
/// Writes records of comma-separated values by RFC 4180 section 2: fields between commas, records ended by CR LF, fields with a comma, a
/// quote or a line break in quotes, a quote inside them doubled.
/// </summary>
public static class CsvText
{
    /// <summary>What ends a record: CR LF (rule 1).</summary>
    public const string EndOfRecord = "\r\n";

    private static readonly System.Buffers.SearchValues<char> Special = System.Buffers.SearchValues.Create(",\"\r\n");

    // A spreadsheet takes a cell that begins with one of these for a formula and carries it out (OWASP, "CSV Injection").
    private static readonly System.Buffers.SearchValues<char> Formula = System.Buffers.SearchValues.Create("=+-@\t\r\n");

    /// <summary>Adds one field as it is, in quotes only where it needs them. For figures, and texts that the service made.</summary>
    /// <param name="to">The record so far.</param>
    /// <param name="field">The field; may be empty.</param>
    public static void Field(StringBuilder to, ReadOnlySpan<char> field)
    {
        ArgumentNullException.ThrowIfNull(to);
        if (field.IndexOfAny(Special) < 0)
        {
            to.Append(field);
            return;
        }

        to.Append('"');
        foreach (char c in field)
        {
            to.Append(c);
            if (c == '"')
            {
                to.Append('"');
            }
        }

        to.Append('"');
    }

    /// <summary>
    /// Adds a text that someone else chose. One that a spreadsheet would carry out as a formula gets an apostrophe in front, which is how
    /// spreadsheets are told that a cell is text.
    /// </summary>
    /// <param name="to">The record so far.</param>
    /// <param name="text">The text; may be empty.</param>
    public static void Foreign(StringBuilder to, string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        Field(to, text.Length > 0 && Formula.Contains(text[0]) ? "'" + text : text);
    }
}
