using System.Globalization;
using System.Text;
using NodaTime.Text;

namespace Incubation.Core.Readings;

/// <summary>
/// Readings as records of comma-separated values: time (RFC 3339, UTC), probe, quantity, unit, the value as measured, the value corrected by
/// the calibrations known now, and marks (words with blanks between them; empty for a plain good reading).
/// </summary>
public static class CsvReadings
{
    /// <summary>The first record: the names of the columns.</summary>
    public const string Header = "time,probe,quantity,unit,measured,corrected,marks" + CsvText.EndOfRecord;

    private static readonly (ReadingMarks Mark, string Word)[] Words =
    [
        (ReadingMarks.Saturated, "saturated"), (ReadingMarks.Faulty, "faulty"), (ReadingMarks.ArrivalTime, "arrival-time"),
        (ReadingMarks.ClockOff, "clock-off"), (ReadingMarks.Retained, "retained"), (ReadingMarks.OwnClock, "own-clock"),
        (ReadingMarks.Imported, "imported"),
    ];

    /// <summary>Reads marks as <see cref="Append"/> writes them.</summary>
    /// <param name="text">Words with blanks between them, in UTF-8; may be empty.</param>
    /// <param name="marks">The marks.</param>
    /// <returns>Whether every word is one.</returns>
    public static bool TryMarks(ReadOnlySpan<byte> text, out ReadingMarks marks)
    {
        marks = ReadingMarks.None;
        while (!(text = text.TrimStart((byte)' ')).IsEmpty)
        {
            int end = text.IndexOf((byte)' ');
            ReadOnlySpan<byte> word = end < 0 ? text : text[..end];
            text = text[word.Length..];
            bool known = false;
            foreach ((ReadingMarks mark, string name) in Words)
            {
                if (System.Text.Ascii.Equals(word, name))
                {
                    marks |= mark;
                    known = true;
                }
            }

            if (!known)
            {
                return false;
            }
        }

        return true;
    }

    /// <summary>Adds the record of one reading.</summary>
    /// <param name="to">The records so far.</param>
    /// <param name="measured">The reading as the store holds it, in its quantity's unit.</param>
    /// <param name="correction">What its series is corrected by.</param>
    public static void Append(StringBuilder to, in Reading measured, Correction correction)
    {
        ArgumentNullException.ThrowIfNull(to);
        Quantity quantity = measured.Series.Quantity;
        to.Append(InstantPattern.ExtendedIso.Format(measured.At)).Append(',');
        CsvText.Foreign(to, measured.Series.Probe);
        to.Append(',');
        CsvText.Foreign(to, quantity.Name);
        to.Append(',').Append(quantity.Unit);
        to.Append(CultureInfo.InvariantCulture, $",{measured.Value},{CorrectedHistory.Correct(measured, correction).Value},");
        int begin = to.Length;
        foreach ((ReadingMarks mark, string word) in Words)
        {
            if ((measured.Marks & mark) != 0)
            {
                to.Append(to.Length > begin ? " " : "").Append(word);
            }
        }

        to.Append(CsvText.EndOfRecord);
    }
}
