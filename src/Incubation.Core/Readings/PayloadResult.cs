using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>What came of a payload: readings, or a reason why not.</summary>
public readonly record struct PayloadResult
{
    private PayloadResult(ReadOnlyMemory<Reading> readings, string? rejection, ReadingMemory? memory, Duration? clockOff) =>
        (Readings, Rejection, Memory, ClockOff) = (readings, rejection, memory, clockOff);

    /// <summary>The readings, in the order of the payload; empty when it was rejected.</summary>
    public ReadOnlyMemory<Reading> Readings { get; }

    /// <summary>Cause and fix in plain words, or null when it was read. Equal faults have equal words.</summary>
    public string? Rejection { get; }

    /// <summary>What to hand in with the next payload of this series. Unchanged by faulty and rejected values.</summary>
    public ReadingMemory? Memory { get; }

    /// <summary>The probe's time minus the arrival when that time was not believed; null when it was, or there was none that can be read.</summary>
    public Duration? ClockOff { get; }

    internal static PayloadResult Of(Reading reading, ReadingMemory? memory, Duration? clockOff) =>
        new(new[] { reading }, null, memory, clockOff);

    internal static PayloadResult Rejected(string reason, ReadingMemory? memory) => new(default, reason, memory, null);
}
