using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>What came of a payload: readings, or a reason why not. A part that can't be used does not cost the rest.</summary>
public readonly record struct PayloadResult
{
    private PayloadResult(ReadOnlyMemory<Reading> readings, string? rejection, string? leftOut, bool saysTime, Instant? sentAt, Duration? clockOff) =>
        (Readings, Rejection, LeftOut, SaysTime, SentAt, ClockOff) = (readings, rejection, leftOut, saysTime, sentAt, clockOff);

    /// <summary>The readings, in the order of their times; empty when the payload was rejected.</summary>
    public ReadOnlyMemory<Reading> Readings { get; }

    /// <summary>Cause and fix in plain words, or null when there are readings. Equal faults have equal words.</summary>
    public string? Rejection { get; }

    /// <summary>Why a part of the payload is not among the readings, or null when all of it is. The first reason, if there are several.</summary>
    public string? LeftOut { get; }

    /// <summary>Whether the probe sent a time of its own, readable or not.</summary>
    public bool SaysTime { get; }

    /// <summary>The newest time that the probe sent, believed or not; null when there was none that can be read.</summary>
    public Instant? SentAt { get; }

    /// <summary><see cref="SentAt"/> minus the arrival when that time was not believed; null when it was, or there was none that can be read.</summary>
    public Duration? ClockOff { get; }

    internal static PayloadResult Of(ReadOnlyMemory<Reading> readings, string? leftOut, bool saysTime, Instant? sentAt, Duration? clockOff) =>
        new(readings, null, leftOut, saysTime, sentAt, clockOff);

    internal static PayloadResult Rejected(string reason) => new(default, reason, null, false, null, null);
}
