using System.Collections.Immutable;
using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>What a probe was compared with.</summary>
public enum CalibrationMethod
{
    /// <summary>Melting ice in water: 0.00 °C. A second point, if any, is a reference thermometer's.</summary>
    IceBath,

    /// <summary>A thermometer that is known to be right.</summary>
    ReferenceThermometer,

    /// <summary>A hygrometer that is known to be right.</summary>
    ReferenceHygrometer,

    /// <summary>Air in a closed jar over a saturated salt solution.</summary>
    SaturatedSalt,

    /// <summary>Nothing: takes the entry that it supersedes away and puts none in its place.</summary>
    Withdrawn,
}

/// <summary>One comparison at one value.</summary>
/// <param name="Measured">What the probe said, uncorrected, in the quantity's unit.</param>
/// <param name="Truth">What was true there, in the quantity's unit.</param>
/// <param name="Salt">The salt over which, or null.</param>
/// <param name="AtCelsius">Temperature of the salt's jar, °C, or null.</param>
public sealed record CalibrationPoint(double Measured, double Truth, string? Salt = null, double? AtCelsius = null);

/// <summary>One calibration of one probe's quantity. Append-only: a correction supersedes.</summary>
/// <param name="Id">Its name, given by whoever entered it.</param>
/// <param name="Series">Whose and of what.</param>
/// <param name="From">Since when it holds; may lie long before it was entered, and then corrects the past.</param>
/// <param name="Method">What it was compared with.</param>
/// <param name="Points">One (offset) or two (gain and offset); none when withdrawn.</param>
/// <param name="NextDue">The day on which it should be done again, or null.</param>
/// <param name="Note">The keeper's note, or empty.</param>
/// <param name="Supersedes">The entry it takes the place of, or null.</param>
/// <param name="By">Who entered it.</param>
/// <param name="EnteredAt">When.</param>
public sealed record CalibrationEntry(
    Guid Id, SeriesKey Series, Instant From, CalibrationMethod Method, ImmutableArray<CalibrationPoint> Points, LocalDate? NextDue, string Note,
    Guid? Supersedes, string By, Instant EnteredAt)
{
    /// <summary>
    /// Slope, without unit. One point gives 1; two give (truth₂ − truth₁) ÷ (measured₂ − measured₁), which is no number when both were
    /// measured alike.
    /// </summary>
    public double Gain => Points is [{ } first, { } second] ? (second.Truth - first.Truth) / (second.Measured - first.Measured) : 1;

    /// <summary>Added after the slope, in the quantity's unit: truth₁ − gain × measured₁.</summary>
    public double Offset => Points.IsEmpty ? 0 : Points[0].Truth - (Gain * Points[0].Measured);

    /// <summary>Whether both entries say the same; who sent it again, and when, is not compared.</summary>
    public bool SaysTheSame(CalibrationEntry other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return Id == other.Id && Series == other.Series && From == other.From && Method == other.Method && Points.SequenceEqual(other.Points)
            && NextDue == other.NextDue && Note == other.Note && Supersedes == other.Supersedes;
    }
}
