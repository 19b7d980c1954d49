using System.Globalization;
using Incubation.Storage.Readings.Rollups;
using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings.Keeping;

/// <summary>
/// Which days of a series were given up, as a note beside the readings, so that whoever looks at them knows what was here and is no more.
/// A line holds stretches of whole days in time order; it grows only where days in between were kept for good.
/// </summary>
internal static class GivenUp
{
    /// <summary>Name of a series' note.</summary>
    public static string NoteOf(long series) => string.Create(CultureInfo.InvariantCulture, $"given up {series}");

    /// <summary>Stretches [from, to) in Unix milliseconds; empty when nothing was given up.</summary>
    public static List<(long From, long To)> Of(SqliteConnection connection, long series)
    {
        using Statement ask = new(connection, "SELECT value FROM note WHERE name = ?1");
        ask.Bind(1, NoteOf(series));
        string text = ask.Row() ? ask.Text(0) : "";
        ask.Done();
        return [.. text.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Stretch)];
    }

    /// <summary>The note's text once a day is added to it.</summary>
    public static string With(IEnumerable<(long From, long To)> stretches, long day)
    {
        List<(long From, long To)> merged = [];
        foreach ((long from, long to) in stretches.Append((From: day, To: day + Spans.Day)).Order())
        {
            if (merged.Count > 0 && merged[^1].To >= from)
            {
                merged[^1] = (merged[^1].From, Math.Max(merged[^1].To, to));
            }
            else
            {
                merged.Add((from, to));
            }
        }

        return string.Join(' ', merged.Select(m => string.Create(CultureInfo.InvariantCulture, $"{m.From}..{m.To}")));
    }

    private static (long From, long To) Stretch(string text)
    {
        string[] ends = text.Split("..");
        return (long.Parse(ends[0], CultureInfo.InvariantCulture), long.Parse(ends[1], CultureInfo.InvariantCulture));
    }
}
