using System.Runtime.InteropServices;
using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Core.Alarms;

/// <summary>
/// All alarms of a facility: readings and time in, steps of alarms out. Pure and deterministic, so that a night can be replayed; the
/// path of a reading that changes nothing allocates nothing. Not safe for use from several threads.
/// </summary>
public sealed class AlarmEngine
{
    /// <summary>How long a probe that was never heard may be silent when no band of its incubator says.</summary>
    public static readonly Duration DefaultSilentAfter = Duration.FromMinutes(10);

    /// <summary>The one alarm that is about every probe.</summary>
    public static readonly AlarmKey NothingHeard = new("", "", default, AlarmCondition.NothingFromAnyProbe, AlarmSeverity.Danger);

    private readonly AlarmBook _book;
    private readonly Dictionary<SeriesKey, Instant> _heard = [];
    private Arrangement _now = Arrangement.Empty;

    /// <summary>An engine with nothing to watch.</summary>
    /// <param name="newOccurrence">Gives a name for each new occurrence.</param>
    public AlarmEngine(Func<Guid> newOccurrence) => _book = new AlarmBook(newOccurrence);

    /// <summary>Every alarm that is not normal.</summary>
    public IReadOnlyDictionary<AlarmKey, AlarmSnapshot> Alarms => _book.Alarms;

    /// <summary>
    /// Latest time at which <see cref="Advance"/> is to be called, on the steady clock; <see cref="Instant.MaxValue"/> for never. It may
    /// be too early, never too late.
    /// </summary>
    public Instant Next { get; private set; } = Instant.MaxValue;

    /// <summary>Puts back what stood before a restart. Call before <see cref="Arrange"/>.</summary>
    public void Restore(in AlarmKey key, AlarmSnapshot alarm) => _book.Restore(key, alarm);

    /// <summary>Key of the alarm about one silent probe.</summary>
    public static AlarmKey SilenceOf(ProbePlace place)
        => new(place.Incubator, place.Probe, default, AlarmCondition.NoReading, AlarmSeverity.Warning);

    /// <summary>Sets what is watched. Alarms whose reason is gone end; delays that run go on where nothing changed.</summary>
    /// <param name="incubators">Keys of the incubators in use.</param>
    /// <param name="bands">Bands that hold.</param>
    /// <param name="places">Where probes are.</param>
    /// <param name="known">Series heard before; they are missed when they stay away.</param>
    /// <param name="now">Now.</param>
    /// <param name="changes">Where steps go.</param>
    public void Arrange(
        IEnumerable<string> incubators, IEnumerable<Band> bands, IEnumerable<ProbePlace> places, IEnumerable<SeriesKey> known,
        AlarmTime now, ICollection<AlarmChange> changes)
    {
        ArgumentNullException.ThrowIfNull(changes);
        Advance(now, changes);
        Arrangement former = _now;
        _now = Arrangement.Build(incubators, bands, places, known, former, _book, now.Steady);
        _now.EndWhatIsGone(_book, now, changes);
        Span<BandEvent> events = new BandEvent[BandWatch.MostEvents];
        foreach (BandWatch watch in _now.Watches)
        {
            Apply(watch, events[..watch.Rejudge(now.Steady, events)], now, changes);
        }

        foreach (SeriesKey gone in _heard.Keys.Where(s => !_now.Probes.ContainsKey(s.Probe)).ToArray())
        {
            _heard.Remove(gone);
        }

        JudgeSilence(now, changes);
        Next = _now.Soonest();
    }

    /// <summary>Tells it a reading that has just come. One that was sent again (same series, same time) changes nothing.</summary>
    public void Observe(in Reading reading, AlarmTime now, ICollection<AlarmChange> changes)
    {
        ArgumentNullException.ThrowIfNull(changes);
        if (!reading.IsGood || !_now.Probes.TryGetValue(reading.Series.Probe, out ProbeWatch? probe))
        {
            return;
        }

        if (IsSentAgain(reading))
        {
            return;
        }

        Duration age = reading.ArrivedAt > reading.At ? reading.ArrivedAt - reading.At : Duration.Zero;
        if (_now.Series.TryGetValue(reading.Series, out SeriesSlot slot))
        {
            CatchUp(slot.Watch, now, changes);
            EventBuffer buffer = default;
            Span<BandEvent> events = MemoryMarshal.CreateSpan(ref buffer.First, BandWatch.MostEvents);
            int count = slot.Watch.Observe(slot.Slot, reading.Value, now.Steady, age, events);
            Apply(slot.Watch, events[..count], now, changes);
            Next = Instant.Min(Next, slot.Watch.Next);
        }

        Duration? after = slot.Watch?.Band.SilentAfter;
        if (age < (after ?? DefaultSilentAfter) && probe.Heard(reading.Series.Quantity, now.Steady - age, after))
        {
            JudgeSilence(now, changes);
        }

        Next = Instant.Min(Next, probe.Next);
    }

    /// <summary>Tells it the time.</summary>
    public void Advance(AlarmTime now, ICollection<AlarmChange> changes)
    {
        ArgumentNullException.ThrowIfNull(changes);
        foreach (BandWatch watch in _now.Watches)
        {
            CatchUp(watch, now, changes);
        }

        bool silence = false;
        foreach (ProbeWatch probe in _now.Probes.Values)
        {
            silence |= probe.Next <= now.Steady && probe.Elapse(now.Steady);
        }

        if (silence)
        {
            JudgeSilence(now, changes);
        }

        Next = _now.Soonest();
    }

    /// <summary>Tells it which troubles the service itself is in. One that is not named is over.</summary>
    /// <param name="kinds">Kinds of <see cref="OwnTroubles"/>.</param>
    /// <param name="mayRaise">Whether people may be told of a new one now.</param>
    /// <param name="now">Now.</param>
    /// <param name="changes">Where steps go.</param>
    public void Judge(IReadOnlySet<string> kinds, bool mayRaise, AlarmTime now, ICollection<AlarmChange> changes)
    {
        ArgumentNullException.ThrowIfNull(kinds);
        ArgumentNullException.ThrowIfNull(changes);
        foreach (string kind in kinds)
        {
            if (mayRaise)
            {
                _book.Raise(OwnTroubles.KeyOf(kind), now, now.Steady, null, null, changes);
            }
        }

        foreach (AlarmKey key in _book.Alarms.Keys.Where(k => k.Condition == AlarmCondition.OwnTrouble && !kinds.Contains(k.Probe)).ToArray())
        {
            _book.Return(key, now, now.Steady, null, null, changes);
        }
    }

    /// <summary>"I am on it."</summary>
    /// <returns>The step, or null; then <paramref name="standing"/> is the alarm that was answered already, or null for none such.</returns>
    public AlarmChange? Answer(Guid occurrence, string by, AlarmTime now, out AlarmSnapshot? standing)
        => _book.Answer(occurrence, by, now, out standing);

    /// <summary>Latest value and furthest value of a standing alarm, or null where it has none.</summary>
    public (double? Value, double? Peak) Figures(in AlarmKey key)
    {
        if (_now.WatchOf(key) is not { } watch)
        {
            return (null, null);
        }

        double value = watch.ValueFor(key.Condition);
        double peak = watch.PeakOf(key);
        return (double.IsNaN(value) ? null : value, double.IsNaN(peak) ? null : peak);
    }

    // The same time again is the same reading: a probe that got no acknowledgement sends it over and over, and measures nothing by that. Its
    // age tells that too, but not while its clock is ahead.
    private bool IsSentAgain(in Reading reading)
    {
        if ((reading.Marks & Reading.AtArrival) != 0)
        {
            return false;
        }

        ref Instant last = ref CollectionsMarshal.GetValueRefOrAddDefault(_heard, reading.Series, out bool known);
        bool again = known && last == reading.At;
        last = reading.At;
        return again;
    }

    private void CatchUp(BandWatch watch, AlarmTime now, ICollection<AlarmChange> changes)
    {
        EventBuffer buffer = default;
        Span<BandEvent> events = MemoryMarshal.CreateSpan(ref buffer.First, BandWatch.MostEvents);
        while (watch.Next <= now.Steady)
        {
            int count = watch.Advance(now.Steady, events);
            Apply(watch, events[..count], now, changes);
        }
    }

    private void Apply(BandWatch watch, ReadOnlySpan<BandEvent> events, AlarmTime now, ICollection<AlarmChange> changes)
    {
        foreach (ref readonly BandEvent one in events)
        {
            if (one.Event == WatchEvent.Raise)
            {
                _book.Raise(one.Key, now, one.At, one.Value, one.Limit, changes);
            }
            else
            {
                double peak = watch.PeakOf(one.Key);
                _book.Return(one.Key, now, one.At, one.Value, double.IsNaN(peak) ? null : peak, changes);
            }
        }
    }

    // Silence is judged as a whole, because "nothing from any probe" depends on every one of them.
    private void JudgeSilence(AlarmTime now, ICollection<AlarmChange> changes)
    {
        bool all = _now.Probes.Count > 0;
        foreach (ProbeWatch probe in _now.Probes.Values)
        {
            all &= probe.Silent;
            if (probe.Silent)
            {
                _book.Raise(SilenceOf(probe.Place), now, now.Steady, null, null, changes);
            }
            else
            {
                _book.Return(SilenceOf(probe.Place), now, now.Steady, null, null, changes);
            }
        }

        if (all)
        {
            _book.Raise(NothingHeard, now, now.Steady, null, null, changes);
        }
        else
        {
            _book.Return(NothingHeard, now, now.Steady, null, null, changes);
        }
    }

    [System.Runtime.CompilerServices.InlineArray(BandWatch.MostEvents)]
    private struct EventBuffer
    {
        public BandEvent First;
    }
}
