using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Core.Alarms;

/// <summary>Where the values of one series go.</summary>
internal readonly record struct SeriesSlot(BandWatch Watch, int Slot);

/// <summary>What is watched: bands with the probes they judge. Rebuilt when the facility changes.</summary>
internal sealed class Arrangement
{
    private readonly HashSet<string> _incubators = [];
    private readonly Dictionary<(string Incubator, Quantity Quantity), (BandWatch Watch, string[] Probes)> _watches = [];

    public static Arrangement Empty { get; } = new();

    public Dictionary<SeriesKey, SeriesSlot> Series { get; } = [];

    public Dictionary<string, ProbeWatch> Probes { get; } = [];

    public BandWatch[] Watches { get; private set; } = [];

    public BandWatch? WatchOf(in AlarmKey key)
        => _watches.TryGetValue((key.Incubator, key.Quantity), out (BandWatch Watch, string[] Probes) found) ? found.Watch : null;

    public Instant Soonest()
    {
        Instant next = Instant.MaxValue;
        foreach (BandWatch watch in Watches)
        {
            next = Instant.Min(next, watch.Next);
        }

        foreach (ProbeWatch probe in Probes.Values)
        {
            next = Instant.Min(next, probe.Next);
        }

        return next;
    }

    public static Arrangement Build(
        IEnumerable<string> incubators, IEnumerable<Band> bands, IEnumerable<ProbePlace> places, IEnumerable<SeriesKey> known,
        Arrangement former, AlarmBook book, Instant now)
    {
        var next = new Arrangement();
        next._incubators.UnionWith(incubators);
        ProbePlace[] placed = [.. places.Where(p => next._incubators.Contains(p.Incubator)).OrderBy(p => p.Probe, StringComparer.Ordinal)];
        foreach (Band band in bands.Where(b => next._incubators.Contains(b.Incubator)))
        {
            next.AddBand(band, [.. placed.Where(p => p.Incubator == band.Incubator).Select(p => p.Probe)], former, book);
        }

        next.Watches = [.. next._watches.Values.Select(w => w.Watch)];
        foreach (ProbePlace place in placed)
        {
            next.AddProbe(place, former, book, now);
        }

        foreach (SeriesKey series in known)
        {
            if (next.Series.TryGetValue(series, out SeriesSlot slot))
            {
                next.Probes[series.Probe].Expect(series.Quantity, now, slot.Watch.Band.SilentAfter);
            }
        }

        return next;
    }

    /// <summary>Ends the alarms that nothing measured can end any more.</summary>
    public void EndWhatIsGone(AlarmBook book, AlarmTime now, ICollection<AlarmChange> changes)
    {
        foreach (AlarmKey key in book.Alarms.Keys.ToArray())
        {
            if (ReasonGone(key, now.Steady, book) is { } reason)
            {
                book.End(key, now, reason, changes);
                WatchOf(key)?.Restore(key, active: false, double.NaN);
            }
        }
    }

    private EndReason? ReasonGone(in AlarmKey key, Instant now, AlarmBook book)
    {
        switch (key.Condition)
        {
            case AlarmCondition.OwnTrouble:
                return null;
            case AlarmCondition.NothingFromAnyProbe:
                return Probes.Count == 0 ? EndReason.NoProbeLeft : null;
            case AlarmCondition.NoReading:
                return !_incubators.Contains(key.Incubator) ? EndReason.IncubatorRetired
                    : Probes.TryGetValue(key.Probe, out ProbeWatch? probe) && probe.Place.Incubator == key.Incubator ? null
                    : EndReason.ProbeMoved;
            default:
                if (!_incubators.Contains(key.Incubator))
                {
                    return EndReason.IncubatorRetired;
                }

                if (!_watches.TryGetValue((key.Incubator, key.Quantity), out (BandWatch Watch, string[] Probes) found)
                    || !found.Watch.Keys.Contains(key))
                {
                    return EndReason.LimitRemoved;
                }

                return found.Probes.Length == 0 ? EndReason.NoProbeLeft
                    : book.Alarms[key] is { Limit: double limit } && found.Watch.LimitOf(key) != limit && found.Watch.IsInside(key, now)
                        ? EndReason.BandChanged
                        : null;
        }
    }

    private void AddBand(Band band, string[] probes, Arrangement former, AlarmBook book)
    {
        BandWatch watch;
        if (former._watches.TryGetValue((band.Incubator, band.Quantity), out (BandWatch Watch, string[] Probes) old))
        {
            watch = old.Watch.Band == band && old.Probes.AsSpan().SequenceEqual(probes) ? old.Watch : new BandWatch(band, probes.Length);
            if (watch != old.Watch)
            {
                watch.TakeOver(old.Watch, [.. probes.Select(p => Array.IndexOf(old.Probes, p))]);
            }
        }
        else
        {
            watch = new BandWatch(band, probes.Length);
            foreach (AlarmKey key in watch.Keys)
            {
                if (book.Alarms.TryGetValue(key, out AlarmSnapshot? alarm))
                {
                    watch.Restore(key, AlarmMachine.IsAbnormal(alarm.State), alarm.Peak ?? double.NaN);
                }
            }
        }

        _watches[(band.Incubator, band.Quantity)] = (watch, probes);
        for (int slot = 0; slot < probes.Length; slot++)
        {
            Series[new SeriesKey(probes[slot], band.Quantity)] = new SeriesSlot(watch, slot);
        }
    }

    private void AddProbe(ProbePlace place, Arrangement former, AlarmBook book, Instant now)
    {
        if (former.Probes.TryGetValue(place.Probe, out ProbeWatch? probe) && probe.Place == place)
        {
            probe.Forget(q => q != default && !Series.ContainsKey(new SeriesKey(place.Probe, q)));
            probe.Patience(default, UntilHeard(place));
            foreach (Quantity quantity in probe.Known.ToArray())
            {
                if (Series.TryGetValue(new SeriesKey(place.Probe, quantity), out SeriesSlot slot))
                {
                    probe.Patience(quantity, slot.Watch.Band.SilentAfter);
                }
            }
        }
        else
        {
            probe = new ProbeWatch(place, now, UntilHeard(place));
            if (book.Alarms.TryGetValue(AlarmEngine.SilenceOf(place), out AlarmSnapshot? alarm) && AlarmMachine.IsAbnormal(alarm.State))
            {
                probe.GoOnSilent();
            }
        }

        Probes[place.Probe] = probe;
    }

    /// <summary>Patience with a probe that has not been heard since it was placed: that of the least patient band around it.</summary>
    private Duration UntilHeard(ProbePlace place)
        => _watches.Where(w => w.Key.Incubator == place.Incubator).Select(w => w.Value.Watch.Band.SilentAfter)
            .DefaultIfEmpty(AlarmEngine.DefaultSilentAfter).Min();
}
