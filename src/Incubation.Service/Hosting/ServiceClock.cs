using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Service.Hosting;

/// <summary>Why the clock of the machine is not believed.</summary>
internal enum ClockDoubt
{
    None,

    /// <summary>It stood before a time that was seen before the start, as on a board without a battery.</summary>
    Behind,

    /// <summary>It jumped back while the service ran.</summary>
    SteppedBack,

    /// <summary>It jumped ahead while the service ran, or lies years ahead of the last time seen.</summary>
    Ahead,
}

/// <summary>How steady time and wall time belong together. Never changed: a later belief is another object.</summary>
/// <param name="Offset">Wall time minus steady time, as it is believed.</param>
/// <param name="Doubt">Why the machine's clock is not believed, or <see cref="ClockDoubt.None"/>.</param>
/// <param name="Since">Steady time since when it is so.</param>
/// <param name="Shown">What the machine's clock showed when it came to be doubted.</param>
/// <param name="Settling">While it is ahead: the other offset it runs by, and since when (steady), or null.</param>
internal sealed record ClockLine(Duration Offset, ClockDoubt Doubt, Instant Since, Instant Shown, (Duration Offset, Instant Since)? Settling = null);

/// <summary>
/// Time for the service. <see cref="Steady"/> never jumps: it starts at the wall clock and runs on the monotonic one, and alarms use it.
/// <see cref="Wall"/> is what people read and what is written down: the machine's clock for as long as that can be believed, and else the
/// largest time known plus what has passed since on the monotonic clock. That is the earliest it can be, so nothing is dated into the future,
/// nothing before what was there already, and everything keeps its order and its distances.
/// </summary>
internal sealed class ServiceClock(TimeProvider time)
{
    /// <summary>A step up to this is an ordinary correction by a time server, and is followed.</summary>
    public static readonly Duration Slack = Duration.FromMinutes(1);

    /// <summary>Without a time server, a clock this far ahead of the last time seen is not believed: longer than from one season to the next but one.</summary>
    public static readonly Duration MostAhead = Duration.FromDays(800);

    /// <summary>A clock that jumped ahead with no time server to vouch for it is believed once it has run evenly for this long.</summary>
    public static readonly Duration Settled = Duration.FromMinutes(15);

    private readonly Lock _gate = new();
    private readonly Instant _start = Instant.FromDateTimeOffset(time.GetUtcNow());
    private readonly long _startTimestamp = time.GetTimestamp();
    private volatile ClockLine _line = new(Duration.Zero, ClockDoubt.None, Instant.MinValue, Instant.MinValue);

    public TimeProvider Provider => time;

    public Instant Steady => _start + Duration.FromTimeSpan(time.GetElapsedTime(_startTimestamp));

    /// <summary>What the machine's clock shows, right or wrong.</summary>
    public Instant Shown => Instant.FromDateTimeOffset(time.GetUtcNow());

    public Instant Wall
    {
        get
        {
            Instant shown = Shown, steady = Steady;
            ClockLine line = _line;
            return line.Doubt == ClockDoubt.None && Near(shown - steady, line.Offset) ? shown : Doubted(shown, steady);
        }
    }

    /// <summary>Whether the machine's clock could be believed when it was last looked at: at the last <see cref="Wall"/>, or within half a minute.</summary>
    public bool Trusted => _line.Doubt == ClockDoubt.None;

    public ClockLine Line => _line;

    /// <summary>The wall time of a steady instant, by how far the two clocks are apart now.</summary>
    public Instant ToWall(Instant steady) => steady + (Wall - Steady);

    /// <summary>Once, at the start.</summary>
    /// <param name="largest">The largest wall time seen before this start, or null when none is known.</param>
    /// <param name="synced">Whether a time server keeps the machine's clock right; null when that can't be told.</param>
    public void Begin(Instant? largest, bool? synced)
    {
        lock (_gate)
        {
            Instant shown = Shown, steady = Steady;
            Instant known = Instant.Max(largest ?? Instant.MinValue, ProbeClock.Earliest);
            ClockDoubt doubt = synced == true && shown >= ProbeClock.Earliest ? ClockDoubt.None
                : shown < known - Slack ? ClockDoubt.Behind
                : largest is not null && shown > known + MostAhead ? ClockDoubt.Ahead
                : ClockDoubt.None;
            _line = new ClockLine((doubt == ClockDoubt.None ? shown : known) - steady, doubt, steady, shown);
        }
    }

    /// <summary>Every half minute: follows small corrections, and sees whether a doubted clock can be believed again.</summary>
    /// <param name="synced">Whether a time server keeps the machine's clock right; null when that can't be told.</param>
    /// <returns>Whether it is believed now.</returns>
    public bool Check(bool? synced)
    {
        lock (_gate)
        {
            Instant shown = Shown, steady = Steady;
            Duration offset = shown - steady;
            ClockLine line = _line;
            if (line.Doubt == ClockDoubt.None)
            {
                if (Near(offset, line.Offset))
                {
                    _line = line with { Offset = offset };
                    return true;
                }

                line = _line = Doubt(line, shown, steady);
            }

            _line = Believable(line, offset, synced, shown) || (line.Settling is { } settling && Near(settling.Offset, offset) && steady - settling.Since >= Settled)
                ? new ClockLine(offset, ClockDoubt.None, steady, shown)
                : line with { Settling = Settling(line, offset, steady) };
            return Trusted;
        }
    }

    private static bool Believable(ClockLine line, Duration offset, bool? synced, Instant shown)
    {
        Duration ahead = offset - line.Offset;
        return shown >= ProbeClock.Earliest
            && (synced == true || Near(offset, line.Offset) || (line.Doubt != ClockDoubt.Ahead && ahead > Duration.Zero && ahead <= MostAhead));
    }

    private static (Duration Offset, Instant Since)? Settling(ClockLine line, Duration offset, Instant steady)
    {
        Duration ahead = offset - line.Offset;
        return line.Doubt != ClockDoubt.Ahead || ahead < Duration.Zero || ahead > MostAhead ? null
            : line.Settling is { } settling && Near(settling.Offset, offset) ? settling
            : (offset, steady);
    }

    private static ClockLine Doubt(ClockLine line, Instant shown, Instant steady)
        => new(line.Offset, shown - steady < line.Offset ? ClockDoubt.SteppedBack : ClockDoubt.Ahead, steady, shown);

    private static bool Near(Duration a, Duration b) => a - b <= Slack && b - a <= Slack;

    private Instant Doubted(Instant shown, Instant steady)
    {
        lock (_gate)
        {
            ClockLine line = _line;
            if (line.Doubt == ClockDoubt.None)
            {
                if (Near(shown - steady, line.Offset))
                {
                    return shown;
                }

                _line = line = Doubt(line, shown, steady);
            }

            return steady + line.Offset;
        }
    }
}
