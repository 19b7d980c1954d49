using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Service.Probes;

/// <summary>One comparison. The truth may be left out for an ice bath (0 °C) and over a salt; the salt and its temperature are taken from the request when not given here.</summary>
internal sealed record CalibrationPointRequest(double? Measured, double? Truth, string? Salt, double? AtCelsius);

/// <summary>
/// A calibration. <c>nextDue</c> is a date, "never", or left out for the usual time. <c>sure</c> says that a large correction is meant.
/// </summary>
internal sealed record CalibrationRequest(
    string? Quantity, string? From, string? Method, string? Salt, double? AtCelsius, IReadOnlyList<CalibrationPointRequest?>? Points, string? NextDue,
    string? Note, Guid? Supersedes, bool? Sure);

/// <summary>
/// A calibration as it is on record. It holds while it is used: not superseded, and no withdrawal. What there was to say when it was entered
/// stands only in the answer to that.
/// </summary>
internal sealed record CalibrationView(
    Guid Id, string Quantity, Instant From, string Method, IReadOnlyList<CalibrationPoint> Points, double Gain, double Offset, LocalDate? NextDue,
    string? Note, Guid? Supersedes, string By, Instant EnteredAt, bool Holds, string Words, IReadOnlyList<string>? Said = null)
{
    public static CalibrationView Of(CalibrationEntry entry, bool holds) => new(
        entry.Id, entry.Series.Quantity.Name, entry.From, CalibrationWords.Word(entry.Method), entry.Points, entry.Gain, entry.Offset, entry.NextDue,
        entry.Note.Length == 0 ? null : entry.Note, entry.Supersedes, entry.By, entry.EnteredAt, holds, CalibrationWords.Say(entry));
}

/// <summary>What a series is corrected by now; for the probe's view.</summary>
internal sealed record CorrectionView(double Gain, double Offset, Instant From, string Method, LocalDate? NextDue);

/// <summary>The known points a probe can be compared with, and what to mind.</summary>
internal sealed record CalibrationPointsView(
    IcePointView IcePoint, IReadOnlyList<SaltView> Salts, IReadOnlyList<string> Cautions, IReadOnlyList<UsualDueView> UsuallyDue,
    IReadOnlyDictionary<string, IReadOnlyList<string>> CautionsOf);

internal sealed record IcePointView(double Truth, double Uncertainty, string Words);

internal sealed record SaltView(
    string Key, string Name, IReadOnlyList<SaltPointView> Points, string Source, string Caution);

internal sealed record SaltPointView(double Celsius, double Humidity, double Uncertainty);

/// <summary>After how many months a calibration is usually repeated.</summary>
internal sealed record UsualDueView(string Quantity, int Months, string Source);
