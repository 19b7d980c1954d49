using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>
/// How far a probe's clock is off, measured from its own messages: its time minus the arrival, positive when the clock is ahead. A message that
/// waited, on the air or in the probe's buffer, makes the clock look late and never early; so of each span of ten seconds only the
/// least late message counts, and the answer is the median of the last 31 such spans. A clock that was set forward shows at once; one that was
/// set back, once half of the spans have it. As good as the service's own clock, and too low by what a message takes at least. Safe from any
/// thread.
/// </summary>
public sealed class ClockSkew
{
    private const int Most = 31;
    private const long SpanMs = 10_000;

    // More than any crystal drifts within the spans that are kept: somebody set the clock.
    private const long SetForwardMs = 60_000;

    private readonly Lock _gate = new();
    private readonly long[] _spans = new long[Most];
    private int _count, _newest;
    private long _span = long.MinValue;

    /// <summary>Takes the time of a message into account.</summary>
    /// <param name="sentAt">The newest time in the message, by the probe's clock.</param>
    /// <param name="arrivedAt">When it arrived.</param>
    public void Note(Instant sentAt, Instant arrivedAt)
    {
        long arrived = arrivedAt.ToUnixTimeMilliseconds(), off = sentAt.ToUnixTimeMilliseconds() - arrived;
        long span = arrived / SpanMs;
        lock (_gate)
        {
            if (_count > 0 && off > Greatest() + SetForwardMs)
            {
                (_count, _span) = (0, long.MinValue);
            }

            if (span == _span)
            {
                _spans[_newest] = Math.Max(_spans[_newest], off);
                return;
            }

            _span = span;
            _newest = _count < Most ? _count : (_newest + 1) % Most;
            _count = Math.Min(_count + 1, Most);
            _spans[_newest] = off;
        }
    }

    /// <summary>The probe's clock minus the service's, or null when the probe never sent a time.</summary>
    public Duration? Median
    {
        get
        {
            long[] sorted;
            lock (_gate)
            {
                sorted = _spans[.._count];
            }

            Array.Sort(sorted);
            return sorted.Length == 0 ? null : Duration.FromMilliseconds(sorted[sorted.Length / 2]);
        }
    }

    private long Greatest()
    {
        long greatest = _spans[0];
        for (int i = 1; i < _count; i++)
        {
            greatest = Math.Max(greatest, _spans[i]);
        }

        return greatest;
    }
}
