using System.Text;
using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>What the cells of one column look like.</summary>
internal enum CellKind
{
    /// <summary>All of them are empty.</summary>
    Empty,
    Words,
    Number,
    CommaNumber,
    Time,
    Date,
    Clock,
}

/// <summary>What a column looks like, and the form of its times where they have one that can be told.</summary>
internal readonly record struct CellLook(CellKind Kind, ImportTimeForm? Form = null, bool Asks = false);

/// <summary>Tells from the cells of a column what it may hold.</summary>
internal static class ImportCells
{
    // Of 1990 and 2100: a value that was measured in an egg room never comes near them.
    private const double LeastSecond = 631_152_000, MostSecond = 4_102_444_800;

    private static readonly ImportTime Absolute = new(ImportTimeForm.Rfc3339, DateTimeZone.Utc, ImportRepeatedHour.First);

    public static CellLook Look(IReadOnlyList<string> cells)
    {
        byte[][] filled = [.. cells.Where(cell => !string.IsNullOrWhiteSpace(cell)).Select(cell => Encoding.UTF8.GetBytes(cell.Trim()))];
        if (filled.Length == 0)
        {
            return new CellLook(CellKind.Empty);
        }

        // A few cells may be bad in a file that is good on the whole.
        bool Most(Func<byte[], bool> holds) => filled.Count(holds) * 10 >= filled.Length * 9;

        if (Most(cell => IsUnix(cell, 1)))
        {
            return new CellLook(CellKind.Time, ImportTimeForm.UnixSeconds);
        }

        if (Most(cell => IsUnix(cell, 1000)))
        {
            return new CellLook(CellKind.Time, ImportTimeForm.UnixMilliseconds);
        }

        if (Most(cell => ImportNumber.TryRead(cell, comma: false, out _)))
        {
            return new CellLook(CellKind.Number);
        }

        if (Most(cell => ImportNumber.TryRead(cell, comma: true, out _)))
        {
            return new CellLook(CellKind.CommaNumber);
        }

        if (Most(cell => Absolute.TryRead(cell, default, out _) is null))
        {
            return new CellLook(CellKind.Time, ImportTimeForm.Rfc3339);
        }

        return Most(cell => IsLocal(cell, ImportTimeForm.YearFirst)) ? Dated(filled, ImportTimeForm.YearFirst)
            : Most(cell => IsLocal(cell, ImportTimeForm.DayFirst) || IsLocal(cell, ImportTimeForm.MonthFirst)) ? DayOrMonth(filled)
            : Most(IsClock) ? new CellLook(CellKind.Clock)
            : new CellLook(CellKind.Words);
    }

    // With points the day comes first. Else one number above twelve tells; without any, people have to say it.
    private static CellLook DayOrMonth(byte[][] cells)
    {
        if (cells.All(cell => cell.Take(3).Contains((byte)'.')))
        {
            return Dated(cells, ImportTimeForm.DayFirst);
        }

        bool day = cells.All(cell => IsLocal(cell, ImportTimeForm.DayFirst)), month = cells.All(cell => IsLocal(cell, ImportTimeForm.MonthFirst));
        if (day == month)
        {
            // One by one they fit both ways, or some fit only one way and some only the other.
            return Dated(cells, ImportTimeForm.DayFirst) with { Form = null, Asks = true };
        }

        return Dated(cells, day ? ImportTimeForm.DayFirst : ImportTimeForm.MonthFirst);
    }

    private static CellLook Dated(byte[][] cells, ImportTimeForm form) => new(cells.All(cell => !cell.Contains((byte)':')) ? CellKind.Date : CellKind.Time, form);

    private static bool IsLocal(byte[] cell, ImportTimeForm form) => ImportLocalTime.TryRead(cell, form, out _);

    private static bool IsClock(byte[] cell) => ImportLocalTime.TryRead([.. "2000-01-01 "u8, .. cell], ImportTimeForm.YearFirst, out _);

    private static bool IsUnix(byte[] cell, double scale) =>
        ImportNumber.TryRead(cell, comma: false, out double number) && number >= LeastSecond * scale && number <= MostSecond * scale;
}
