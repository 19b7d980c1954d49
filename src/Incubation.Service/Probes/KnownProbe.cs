using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Service.Probes;

/// <summary>A probe that has been heard at least once; what changes with its messages is kept in memory only.</summary>
internal sealed class KnownProbe(string key, string? name, Instant firstHeardAt, bool recorded)
{
    private readonly ClockSkew _skew = new();
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

    /// <summary>How far the probe's clock is off, by the median of its recent messages: positive when ahead; null when it never sent a time.</summary>
    public Duration? Skew => _skew.Median;

    /// <summary>Takes in what a message says of the probe's clock.</summary>
    /// <param name="sentAt">The newest time in it, or null when it can't be read.</param>
    /// <param name="arrivedAt">When it arrived.</param>
    /// <param name="clockOff">How far that time is off when it was not believed.</param>
    public void NoteClock(Instant? sentAt, Instant arrivedAt, Duration? clockOff)
    {
        ClockOff = clockOff;
        if (sentAt is { } sent)
        {
            _skew.Note(sent, arrivedAt);
        }
    }
}
