using NodaTime;

namespace Incubation.Core.Alarms;

/// <summary>
/// One series that should be heard: silent when no good reading came for its time. A bad reading is not heard here, so a probe that
/// sends only faults is silent too. Mutable struct, no allocation.
/// </summary>
public record struct SilenceWatch
{
    private Instant _lastGood;
    private Duration _after;

    /// <summary>A watch that begins to listen.</summary>
    /// <param name="since">Last good reading, or when listening began.</param>
    /// <param name="after">Time without a good reading after which it is silent; &gt; 0.</param>
    public SilenceWatch(Instant since, Duration after)
    {
        _lastGood = since;
        _after = after;
    }

    /// <summary>Whether it is silent.</summary>
    public bool Silent { get; private set; }

    /// <summary>When <see cref="Elapse"/> is to be called if nothing is heard first; <see cref="Instant.MaxValue"/> while silent.</summary>
    public readonly Instant Due => Silent ? Instant.MaxValue : _lastGood + _after;

    /// <summary>The latest good reading, or when listening began.</summary>
    public readonly Instant LastGood => _lastGood;

    /// <summary>Changes the patience; what is silent stays so until it is heard.</summary>
    public readonly SilenceWatch With(Duration after) => this with { _after = after };

    /// <summary>A watch that goes on silent, as it was before a restart.</summary>
    public readonly SilenceWatch AsSilent() => this with { Silent = true };

    /// <summary>A good reading was heard; one that is older than the latest changes nothing.</summary>
    public WatchEvent Heard(Instant at)
    {
        if (at < _lastGood)
        {
            return WatchEvent.None;
        }

        _lastGood = at;
        if (!Silent)
        {
            return WatchEvent.None;
        }

        Silent = false;
        return WatchEvent.Clear;
    }

    /// <summary>Tells it the time.</summary>
    public WatchEvent Elapse(Instant now)
    {
        if (Silent || now < Due)
        {
            return WatchEvent.None;
        }

        Silent = true;
        return WatchEvent.Raise;
    }
}
