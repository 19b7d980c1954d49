using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>The newest of one series, and a good reading of each of the last sixty minutes.</summary>
internal sealed class SeriesMemory
{
    private const int Minutes = 60;
    private const long MinuteMs = 60_000;

    private readonly Lock _gate = new();
    private readonly Reading[] _minutes = new Reading[Minutes];
    private Reading? _latest;
    private Reading? _latestGood;
    private Instant? _goodHeardAt;

    public Reading? Latest
    {
        get
        {
            lock (_gate)
            {
                return _latest;
            }
        }
    }

    public Reading? LatestGood
    {
        get
        {
            lock (_gate)
            {
                return _latestGood;
            }
        }
    }

    /// <summary>Steady time at which the newest good reading was measured, as far as its probe's clock is believed.</summary>
    public Instant? GoodHeardAt
    {
        get
        {
            lock (_gate)
            {
                return _goodHeardAt;
            }
        }
    }

    public void Add(in Reading reading, Instant steadyNow)
    {
        lock (_gate)
        {
            if (IsNewer(reading, _latest))
            {
                _latest = reading;
            }

            if (!reading.IsGood)
            {
                return;
            }

            bool again = _latestGood is { } last && last.At == reading.At && (reading.Marks & Reading.AtArrival) == 0;
            if (IsNewer(reading, _latestGood))
            {
                _latestGood = reading;
            }

            // One that a probe had kept for an hour is an hour old when it comes; one from a little in the future is new.
            Duration age = Duration.Max(reading.ArrivedAt - reading.At, Duration.Zero);
            Instant heard = steadyNow - age;
            // The same time again is the same reading: sent again, it is no sign of life.
            if (!again && !(heard <= _goodHeardAt))
            {
                _goodHeardAt = heard;
            }

            ref Reading slot = ref _minutes[Slot(reading.At)];
            if (reading.At >= slot.At)
            {
                slot = reading;
            }
        }
    }

    /// <summary>Good readings since <paramref name="from"/>, at most one of each minute, oldest first.</summary>
    public IReadOnlyList<Reading> Since(Instant from)
    {
        List<Reading> found = new(Minutes);
        lock (_gate)
        {
            foreach (ref readonly Reading reading in _minutes.AsSpan())
            {
                if (reading.Series.Probe is not null && reading.At >= from)
                {
                    found.Add(reading);
                }
            }
        }

        found.Sort(static (a, b) => a.At.CompareTo(b.At));
        return found;
    }

    // By the time measured; one "from the future" gives way as soon as its probe's clock has been put right.
    private static bool IsNewer(in Reading reading, in Reading? than)
        => than is not { } old || reading.At >= old.At || old.At > reading.ArrivedAt;

    private static int Slot(Instant at) => (int)((ulong)(at.ToUnixTimeMilliseconds() / MinuteMs) % Minutes);
}
