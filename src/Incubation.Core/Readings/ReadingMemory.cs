using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>What is remembered of a series to judge its next value: the last good one. No memory means none was ever heard.</summary>
/// <param name="LastGood">The last good value, in the held unit (°C for temperature).</param>
/// <param name="At">When it was measured.</param>
public readonly record struct ReadingMemory(double LastGood, Instant At);
