using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>One probe's measurements of one quantity over time.</summary>
/// <param name="Probe">The probe's name in topics; unique in the facility.</param>
/// <param name="Quantity">What it measures.</param>
public readonly record struct SeriesKey(string Probe, Quantity Quantity)
{
    /// <inheritdoc/>
    public override string ToString() => $"{Probe}/{Quantity.Name}";
}

/// <summary>What is known about a reading besides its value.</summary>
[Flags]
public enum ReadingMarks
{
    /// <summary>A plain good reading with the probe's own time.</summary>
    None = 0,

    /// <summary>100–105 %RH: the sensor is saturated; the value says "very wet" and no more.</summary>
    Saturated = 1,

    /// <summary>The value is a fault of the probe (−127 °C, 85.0 °C after a jump) and no measurement.</summary>
    Faulty = 2,

    /// <summary>The probe sent no time, or only how long ago: <see cref="Reading.At"/> is when it arrived, or that much earlier.</summary>
    ArrivalTime = 4,

    /// <summary>The probe's time was not believed: <see cref="Reading.At"/> is when it arrived.</summary>
    ClockOff = 8,

    /// <summary>Delivered by a broker from its retained store on a subscription: of unknown age.</summary>
    Retained = 16,

    /// <summary>
    /// The service's own clock was not trusted when it arrived: <see cref="Reading.ArrivedAt"/>, and <see cref="Reading.At"/> where that is the
    /// arrival, is the earliest it can have been.
    /// </summary>
    OwnClock = 32,

    /// <summary>
    /// Brought in from a file, when <see cref="Reading.ArrivedAt"/> says: part of the history, but never a sign of life and never judged by an alarm.
    /// Its series and time are what it is known by, whatever else is marked.
    /// </summary>
    Imported = 64,
}

/// <summary>One measured value.</summary>
/// <param name="Series">Whose and of what.</param>
/// <param name="Value">Value in the quantity's unit: °C, %RH, or as sent.</param>
/// <param name="At">When it was measured, to the millisecond.</param>
/// <param name="ArrivedAt">When it reached the service, to the millisecond.</param>
/// <param name="Marks">What else is known about it.</param>
public readonly record struct Reading(SeriesKey Series, double Value, Instant At, Instant ArrivedAt, ReadingMarks Marks)
{
    /// <summary>Marks of a reading that stands at its arrival, since the probe sent no time or one that was not believed.</summary>
    public const ReadingMarks AtArrival = ReadingMarks.ArrivalTime | ReadingMarks.ClockOff;

    /// <summary>Whether the value may be judged against a band: not faulty and not of unknown age.</summary>
    public bool IsGood => (Marks & (ReadingMarks.Faulty | ReadingMarks.Retained)) == 0;
}
