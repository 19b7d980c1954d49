using System.Collections.Immutable;
using System.Globalization;
using Incubation.Core.Readings;
using Incubation.Storage.Records;

namespace Incubation.Service.Probes;

/// <summary>Calibrations to and from the records.</summary>
internal static class CalibrationRows
{
    private const char Between = '|';
    private const char At = '@';

    public static CalibrationRecord Row(CalibrationEntry entry) => new()
    {
        Id = entry.Id,
        Probe = entry.Series.Probe,
        Quantity = entry.Series.Quantity.Name,
        From = entry.From,
        Method = string.Join(Between, entry.Points.Where(point => point.Salt is not null).Select(Salt).Prepend(CalibrationWords.Word(entry.Method))),
        Measured = entry.Points.IsEmpty ? 0 : entry.Points[0].Measured,
        Truth = entry.Points.IsEmpty ? 0 : entry.Points[0].Truth,
        Measured2 = entry.Points.Length > 1 ? entry.Points[1].Measured : null,
        Truth2 = entry.Points.Length > 1 ? entry.Points[1].Truth : null,
        NextDue = entry.NextDue,
        Note = entry.Note.Length == 0 ? null : entry.Note,
        Supersedes = entry.Supersedes,
        By = entry.By,
        EnteredAt = entry.EnteredAt,
    };

    /// <summary>The entry of a row; null when a newer program wrote a method that this one doesn't know.</summary>
    public static CalibrationEntry? Entry(CalibrationRecord row)
    {
        string[] parts = row.Method.Split(Between);
        if (CalibrationWords.MethodOf(parts[0]) is not { } method)
        {
            return null;
        }

        ImmutableArray<CalibrationPoint> points = method == CalibrationMethod.Withdrawn ? []
            : row is { Measured2: { } measured, Truth2: { } truth }
                ? [Point(row.Measured, row.Truth, parts.ElementAtOrDefault(1)), Point(measured, truth, parts.ElementAtOrDefault(2))]
                : [Point(row.Measured, row.Truth, parts.ElementAtOrDefault(1))];
        return new CalibrationEntry(
            row.Id, new SeriesKey(row.Probe, new Quantity(row.Quantity)), row.From, method, points, row.NextDue, row.Note ?? "", row.Supersedes,
            row.By, row.EnteredAt);
    }

    private static string Salt(CalibrationPoint point) => string.Create(CultureInfo.InvariantCulture, $"{point.Salt}{At}{point.AtCelsius:R}");

    private static CalibrationPoint Point(double measured, double truth, string? salt)
    {
        int at = salt?.IndexOf(At, StringComparison.Ordinal) ?? -1;
        return at > 0 && double.TryParse(salt.AsSpan(at + 1), NumberStyles.Float, CultureInfo.InvariantCulture, out double celsius)
            ? new CalibrationPoint(measured, truth, salt![..at], celsius)
            : new CalibrationPoint(measured, truth);
    }
}
