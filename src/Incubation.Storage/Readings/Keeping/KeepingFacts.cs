using NodaTime;

namespace Incubation.Storage.Readings.Keeping;

/// <summary>What the readings file is like.</summary>
/// <param name="Bytes">Bytes on the disk, write-ahead log included.</param>
/// <param name="Oldest">Time of the oldest reading; null without any.</param>
/// <param name="SealedDays">Sealed days of all series together.</param>
/// <param name="RawDays">Days of all series together that are not sealed.</param>
/// <param name="LastCheck">How the last check ended; null before the first.</param>
public sealed record KeepingFacts(long Bytes, Instant? Oldest, long SealedDays, long RawDays, StoreCheck? LastCheck);

/// <summary>How a check of the whole file ended.</summary>
/// <param name="At">When it ended.</param>
/// <param name="Ok">Whether nothing was found.</param>
/// <param name="Words">What was found, and what to do.</param>
public sealed record StoreCheck(Instant At, bool Ok, string Words);
