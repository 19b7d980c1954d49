using NodaTime;

namespace Incubation.Core.Alarms;

/// <summary>One raise or clear of one of a band's limits.</summary>
/// <param name="Key">Which alarm.</param>
/// <param name="Event">Raise or clear.</param>
/// <param name="At">When, on the clock the watch is driven by.</param>
/// <param name="Value">The value judged, in the quantity's unit.</param>
/// <param name="Limit">The limit, same unit.</param>
public readonly record struct BandEvent(AlarmKey Key, WatchEvent Event, Instant At, double Value, double Limit);

/// <summary>
/// One quantity in one incubator: the fresh values of the probes placed there against the up to four limits of its band. High is judged
/// by the highest, low by the lowest. A value is fresh for the band's <see cref="Band.SilentAfter"/>; without any fresh value nothing
/// raises and nothing clears. Not safe for use from several threads. No allocation per reading.
/// </summary>
public sealed class BandWatch
{
    /// <summary>Most events one call can give: each of four limits by its delay and again by what is left when a value grows old.</summary>
    public const int MostEvents = 8;

    private readonly LimitRule[] _rules;
    private readonly AlarmKey[] _keys;
    private readonly LimitWatch[] _watches;
    private readonly double[] _peaks;
    private readonly double[] _values;
    private readonly Instant[] _freshUntil;
    private int _fresh;
    private Instant _expiry = Instant.MaxValue;

    /// <summary>Begins to watch, with nothing heard yet.</summary>
    /// <param name="band">The band.</param>
    /// <param name="probes">How many probes are placed; each is told apart by its slot, 0 and up.</param>
    public BandWatch(Band band, int probes)
    {
        ArgumentNullException.ThrowIfNull(band);
        ArgumentOutOfRangeException.ThrowIfNegative(probes);
        Band = band;
        (LimitRule Rule, AlarmKey Key)[] limits = [.. LimitsOf(band)];
        _rules = [.. limits.Select(l => l.Rule)];
        _keys = [.. limits.Select(l => l.Key)];
        _watches = new LimitWatch[limits.Length];
        _peaks = new double[limits.Length];
        Array.Fill(_peaks, double.NaN);
        _values = new double[probes];
        _freshUntil = new Instant[probes];
        Array.Fill(_freshUntil, Instant.MinValue);
        Next = Instant.MaxValue;
    }

    /// <summary>The band.</summary>
    public Band Band { get; }

    /// <summary>The alarms it can raise.</summary>
    public ReadOnlySpan<AlarmKey> Keys => _keys;

    /// <summary>When <see cref="Advance"/> is due if nothing is heard first; <see cref="Instant.MaxValue"/> for never.</summary>
    public Instant Next { get; private set; }

    /// <summary>Highest fresh value, or NaN.</summary>
    public double Highest { get; private set; } = double.NaN;

    /// <summary>Lowest fresh value, or NaN.</summary>
    public double Lowest { get; private set; } = double.NaN;

    /// <summary>The value an alarm is judged by now, or NaN when there is none.</summary>
    public double ValueFor(AlarmCondition condition) => condition == AlarmCondition.High ? Highest : Lowest;

    /// <summary>Furthest value beyond the limit since the alarm was raised, or NaN.</summary>
    public double PeakOf(in AlarmKey key)
    {
        int i = Array.IndexOf(_keys, key);
        return i < 0 ? double.NaN : _peaks[i];
    }

    /// <summary>The alarm's limit, or null when the band has none such.</summary>
    public double? LimitOf(in AlarmKey key)
    {
        int i = Array.IndexOf(_keys, key);
        return i < 0 ? null : _rules[i].Limit;
    }

    /// <summary>Goes on with an alarm that stood before.</summary>
    public void Restore(in AlarmKey key, bool active, double peak)
    {
        int i = Array.IndexOf(_keys, key);
        if (i >= 0)
        {
            _watches[i] = LimitWatch.Restored(active);
            _peaks[i] = active ? peak : double.NaN;
        }
    }

    /// <summary>Whether the alarm's limit has been passed and not cleared.</summary>
    public bool IsActive(in AlarmKey key)
    {
        int i = Array.IndexOf(_keys, key);
        return i >= 0 && _watches[i].Active;
    }

    /// <summary>
    /// Takes over what another watch of the same quantity knew: fresh values, and the delays and peaks of limits that did not change.
    /// <see cref="Rejudge"/> follows.
    /// </summary>
    /// <param name="other">The former watch.</param>
    /// <param name="slotThere">For each slot here, the slot there, or −1.</param>
    public void TakeOver(BandWatch other, ReadOnlySpan<int> slotThere)
    {
        ArgumentNullException.ThrowIfNull(other);
        for (int slot = 0; slot < slotThere.Length; slot++)
        {
            if (slotThere[slot] >= 0)
            {
                (_values[slot], _freshUntil[slot]) = (other._values[slotThere[slot]], other._freshUntil[slotThere[slot]]);
            }
        }

        for (int i = 0; i < _keys.Length; i++)
        {
            int there = Array.IndexOf(other._keys, _keys[i]);
            if (there >= 0)
            {
                _watches[i] = other._rules[there] == _rules[i] ? other._watches[there] : LimitWatch.Restored(other._watches[there].Active);
                _peaks[i] = other._peaks[there];
            }
        }
    }

    /// <summary>Whether the alarm's limit is not passed by the fresh values: false too when there is no fresh value to say so.</summary>
    /// <param name="key">Which alarm.</param>
    /// <param name="at">Now.</param>
    public bool IsInside(in AlarmKey key, Instant at)
    {
        Collect(at);
        int i = Array.IndexOf(_keys, key);
        return i >= 0 && _fresh > 0 && !_rules[i].IsBeyond(_rules[i].Side == LimitSide.High ? Highest : Lowest);
    }

    /// <summary>
    /// Tells it a good value of one probe. Call <see cref="Advance"/> first until <see cref="Next"/> lies ahead. A value that is
    /// no longer fresh, or older than the one known, changes nothing: it is for the record, not for tonight.
    /// </summary>
    /// <param name="slot">The probe.</param>
    /// <param name="value">In the quantity's unit.</param>
    /// <param name="at">Now.</param>
    /// <param name="age">How old the value is already; ≥ 0.</param>
    /// <param name="events">Where events go; at least <see cref="MostEvents"/> long.</param>
    /// <returns>How many events were written.</returns>
    public int Observe(int slot, double value, Instant at, Duration age, Span<BandEvent> events)
    {
        Instant freshUntil = at - age + Band.SilentAfter;
        if (double.IsNaN(value) || freshUntil <= at || freshUntil < _freshUntil[slot])
        {
            return 0;
        }

        (_values[slot], _freshUntil[slot]) = (value, freshUntil);
        return Rejudge(at, events);
    }

    /// <summary>Processes everything that is due at <see cref="Next"/>, if that is not after <paramref name="now"/>. Call until it is.</summary>
    /// <returns>How many events were written.</returns>
    public int Advance(Instant now, Span<BandEvent> events)
    {
        Instant at = Next;
        if (at > now)
        {
            return 0;
        }

        // A delay that ends at the moment the last value grows old was complete: limits first, then freshness.
        int count = 0;
        for (int i = 0; i < _watches.Length; i++)
        {
            count = Note(i, _watches[i].Elapse(at), at, events, count);
        }

        if (at >= _expiry)
        {
            return count + Rejudge(at, events[count..]);
        }

        Next = Soonest();
        return count;
    }

    /// <summary>Looks again at what is fresh and judges it.</summary>
    /// <returns>How many events were written.</returns>
    public int Rejudge(Instant at, Span<BandEvent> events)
    {
        Collect(at);
        int count = 0;
        for (int i = 0; i < _watches.Length; i++)
        {
            if (_fresh == 0)
            {
                _watches[i].Drop();
                continue;
            }

            double value = _rules[i].Side == LimitSide.High ? Highest : Lowest;
            count = Note(i, _watches[i].Observe(_rules[i], value, at), at, events, count);
        }

        Next = Soonest();
        return count;
    }

    private int Note(int i, WatchEvent what, Instant at, Span<BandEvent> events, int count)
    {
        bool high = _rules[i].Side == LimitSide.High;
        double value = high ? Highest : Lowest;
        if (what == WatchEvent.Raise || (_watches[i].Active && !(high ? value <= _peaks[i] : value >= _peaks[i]) && !double.IsNaN(value)))
        {
            _peaks[i] = value;
        }

        if (what == WatchEvent.None)
        {
            return count;
        }

        events[count] = new BandEvent(_keys[i], what, at, value, _rules[i].Limit);
        return count + 1;
    }

    private void Collect(Instant at)
    {
        (_fresh, _expiry, Highest, Lowest) = (0, Instant.MaxValue, double.NaN, double.NaN);
        for (int slot = 0; slot < _values.Length; slot++)
        {
            if (_freshUntil[slot] <= at)
            {
                _freshUntil[slot] = Instant.MinValue;
                continue;
            }

            double value = _values[slot];
            Highest = _fresh == 0 || value > Highest ? value : Highest;
            Lowest = _fresh == 0 || value < Lowest ? value : Lowest;
            _expiry = _freshUntil[slot] < _expiry ? _freshUntil[slot] : _expiry;
            _fresh++;
        }
    }

    private Instant Soonest()
    {
        Instant next = _expiry;
        for (int i = 0; i < _watches.Length; i++)
        {
            Instant due = _watches[i].Due;
            next = due < next ? due : next;
        }

        return next;
    }

    private static IEnumerable<(LimitRule, AlarmKey)> LimitsOf(Band band)
    {
        (double? Limit, LimitSide Side, AlarmSeverity Severity)[] all =
        [
            (band.DangerHigh, LimitSide.High, AlarmSeverity.Danger), (band.WarningHigh, LimitSide.High, AlarmSeverity.Warning),
            (band.WarningLow, LimitSide.Low, AlarmSeverity.Warning), (band.DangerLow, LimitSide.Low, AlarmSeverity.Danger),
        ];
        foreach ((double? limit, LimitSide side, AlarmSeverity severity) in all)
        {
            if (limit is double value)
            {
                Duration on = severity == AlarmSeverity.Danger ? band.DangerOnDelay : band.WarningOnDelay;
                AlarmCondition condition = side == LimitSide.High ? AlarmCondition.High : AlarmCondition.Low;
                yield return (new LimitRule(side, value, band.Deadband, on, band.OffDelay),
                    new AlarmKey(band.Incubator, "", band.Quantity, condition, severity));
            }
        }
    }
}
