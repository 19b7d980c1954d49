using NodaTime;

namespace Incubation.Service.Probes;

/// <summary>A probe that has been heard at least once; what changes with its messages is kept in memory only.</summary>
internal sealed class KnownProbe(string key, string? name, Instant firstHeardAt, bool recorded)
{
    private long _clockOffMs = long.MinValue;

    public string Key { get; } = key;
    public string? Name { get; set; } = name;
    public Instant FirstHeardAt { get; } = firstHeardAt;

    /// <summary>Whether the records know it.</summary>
    public bool Recorded { get; set; } = recorded;

    /// <summary>What the probe said of itself: true for online, false for offline (its last will), null for nothing.</summary>
    public bool? Online { get; set; }

    /// <summary>How far the probe's clock was off at its last message with a time; null when it was right or it sends none.</summary>
    public Duration? ClockOff
    {
        get => Interlocked.Read(ref _clockOffMs) is long ms && ms != long.MinValue ? Duration.FromMilliseconds(ms) : null;
        set => Interlocked.Exchange(ref _clockOffMs, value is { } off ? (long)off.TotalMilliseconds : long.MinValue);
    }
}
