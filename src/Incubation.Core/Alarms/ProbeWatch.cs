using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Core.Alarms;

/// <summary>
/// One placed probe: silent when any quantity it is known to measure there is silent, so that a probe whose thermometer died is not
/// excused by its hygrometer. Until it has been heard at all, anything good from it counts.
/// </summary>
internal sealed class ProbeWatch(ProbePlace place, Instant since, Duration untilHeard)
{
    private readonly List<(Quantity Quantity, SilenceWatch Watch)> _series = [(default, new SilenceWatch(since, untilHeard))];

    public ProbePlace Place => place;

    public bool Silent { get; private set; }

    /// <summary>The latest good reading of the series that has been silent longest.</summary>
    public Instant LastGood { get; private set; } = since;

    public Instant Next { get; private set; } = since + untilHeard;

    public void GoOnSilent()
    {
        for (int i = 0; i < _series.Count; i++)
        {
            _series[i] = (_series[i].Quantity, _series[i].Watch.AsSilent());
        }

        Settle();
    }

    /// <summary>Listens for a series known from before, from now on.</summary>
    public void Expect(Quantity quantity, Instant since, Duration after)
    {
        if (_series.Exists(s => s.Quantity == quantity))
        {
            return;
        }

        var watch = new SilenceWatch(since, after);
        watch = Silent ? watch.AsSilent() : watch;
        if (_series[0].Quantity == default)
        {
            _series[0] = (quantity, watch);
        }
        else
        {
            _series.Add((quantity, watch));
        }

        Settle();
    }

    public void Patience(Quantity quantity, Duration after)
    {
        int i = _series.FindIndex(s => s.Quantity == quantity);
        if (i >= 0)
        {
            _series[i] = (quantity, _series[i].Watch.With(after));
            Settle();
        }
    }

    /// <summary>The band of a quantity was removed: it is no longer missed.</summary>
    public void Forget(Predicate<Quantity> gone)
    {
        if (_series.Count > 1)
        {
            SilenceWatch last = _series[0].Watch;
            _series.RemoveAll(s => gone(s.Quantity));
            if (_series.Count == 0)
            {
                _series.Add((default, last));
            }

            Settle();
        }
    }

    public IEnumerable<Quantity> Known => _series.Select(s => s.Quantity).Where(q => q != default);

    /// <returns>Whether it became silent or was heard again.</returns>
    public bool Heard(Quantity quantity, Instant measuredAt, Duration? after)
    {
        int found = -1;
        for (int i = 0; i < _series.Count; i++)
        {
            if (_series[i].Quantity == quantity || _series[i].Quantity == default)
            {
                found = i;
                break;
            }
        }

        if (found < 0 && after is null)
        {
            return false;
        }

        SilenceWatch watch = found >= 0 ? _series[found].Watch : new SilenceWatch(measuredAt, after!.Value);
        watch = after is { } patience ? watch.With(patience) : watch;
        watch.Heard(measuredAt);
        (Quantity, SilenceWatch) entry = (after is null ? default : quantity, watch);
        if (found >= 0)
        {
            _series[found] = entry;
        }
        else
        {
            _series.Add(entry);
        }

        return Settle();
    }

    public bool Elapse(Instant now)
    {
        for (int i = 0; i < _series.Count; i++)
        {
            SilenceWatch watch = _series[i].Watch;
            if (watch.Elapse(now) != WatchEvent.None)
            {
                _series[i] = (_series[i].Quantity, watch);
            }
        }

        return Settle();
    }

    private bool Settle()
    {
        bool silent = false;
        Instant next = Instant.MaxValue;
        Instant last = Instant.MaxValue;
        for (int i = 0; i < _series.Count; i++)
        {
            SilenceWatch watch = _series[i].Watch;
            silent |= watch.Silent;
            next = watch.Due < next ? watch.Due : next;
            last = watch.LastGood < last ? watch.LastGood : last;
        }

        bool changed = silent != Silent;
        (Silent, Next, LastGood) = (silent, next, last);
        return changed;
    }
}
