using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Service.Alarms;
using Incubation.Storage.Records;
using NodaTime;

namespace Incubation.Service.Demo;

/// <summary>Lines of the journal, and the alarms that still stand at its end.</summary>
internal sealed record DemoJournalPage(IReadOnlyList<AlarmJournalRecord> Lines, IReadOnlyList<AlarmStateRecord> Standing)
{
    public DemoJournalPage Then(DemoJournalPage next) => new([.. Lines, .. next.Lines], next.Standing);
}

/// <summary>
/// The alarms of the past, judged by the service's own engine from the very readings that are seeded: journal and curves tell one story,
/// in the journal's own events and words. Who was called and who answered is the demo's invention.
/// </summary>
internal sealed class DemoJournal
{
    private static readonly Duration LeastDelay = Duration.FromMinutes(5) + Duration.FromSeconds(30);

    private readonly AlarmEngine _engine;
    private readonly List<AlarmChange> _changes = [];
    private readonly List<AlarmJournalRecord> _lines = [];
    private readonly PriorityQueue<Action<Instant>, (Instant At, int Order)> _people = new();
    private readonly DemoDuty _duty;
    private readonly DateTimeZone _zone;

    private DemoJournal(DemoDuty duty, DateTimeZone zone, Func<Guid> newId)
    {
        (_duty, _zone) = (duty, zone);
        _engine = new AlarmEngine(newId);
    }

    /// <summary>Plays readings back.</summary>
    /// <param name="readings">In order of time.</param>
    /// <param name="incubators">Those that stood then.</param>
    /// <param name="duty">Who was called, and answered when.</param>
    /// <param name="zone">The facility's zone, for times in sentences.</param>
    /// <param name="newId">Names occurrences.</param>
    public static DemoJournalPage Replay(
        IReadOnlyList<Reading> readings, IReadOnlyList<string> incubators, DemoDuty duty, DateTimeZone zone, Func<Guid> newId)
    {
        var journal = new DemoJournal(duty, zone, newId);
        if (readings.Count > 0)
        {
            journal.Play(readings, incubators);
        }
        return new DemoJournalPage(
            journal._lines,
            [
                .. journal._engine.Alarms.Select(alarm => new AlarmStateRecord
                {
                    Key = AlarmRows.Text(alarm.Key),
                    Snapshot = AlarmRows.Snapshot(alarm.Value),
                    ChangedAt = readings[^1].At,
                }),
            ]);
    }

    private void Play(IReadOnlyList<Reading> readings, IReadOnlyList<string> incubators)
    {
        _engine.Arrange(
            incubators, DemoFacility.Bands.Where(band => incubators.Contains(band.Incubator)).Select(Patient),
            DemoFacility.Probes.Where(p => p.Where is not null && incubators.Contains(p.Spec.Cabinet))
                .Select(p => new ProbePlace(p.Spec.Key, p.Spec.Cabinet)),
            [], At(readings[0].At), _changes);
        foreach (var reading in readings)
        {
            GoOn(reading.At);
            _engine.Observe(reading, At(reading.At), _changes);
            Settle();
        }
    }

    /// <summary>What is due before <paramref name="to"/>: delays of the engine, calls, answers.</summary>
    private void GoOn(Instant to)
    {
        var last = Instant.MinValue;
        while (true)
        {
            var person = _people.TryPeek(out _, out var due) ? due.At : Instant.MaxValue;
            // The engine may ask to be told the time too early; asking for the same moment again would never end.
            var engine = _engine.Next <= last ? last + Duration.FromSeconds(1) : _engine.Next;
            var next = Instant.Min(person, engine);
            if (next >= to)
            {
                return;
            }
            if (engine <= person)
            {
                _engine.Advance(At(engine), _changes);
                last = engine;
            }
            else
            {
                _people.Dequeue()(person);
            }
            Settle();
        }
    }

    private void Settle()
    {
        foreach (var change in _changes)
        {
            _lines.Add(AlarmRows.Journal(
                change, AlarmSpeech.Say(change, Context(change.Key)), change.Step == AlarmStep.Answered ? change.Alarm.AnsweredBy : null));
            if (change.Step is AlarmStep.Raised or AlarmStep.RaisedAgain)
            {
                Tell(change);
            }
        }
        _changes.Clear();
    }

    private void Tell(AlarmChange raised)
    {
        var answered = Instant.Max(_duty.AnsweredAt(raised.At), raised.At + Duration.FromSeconds(1));
        foreach (var (who, channel, after) in _duty.Calls)
        {
            // A second for the mail to leave.
            for (var at = raised.At + after + Duration.FromSeconds(1); at < answered; at += _duty.Repeat)
            {
                Later(at, when => Call(raised.Key, raised.Alarm.Occurrence, who, channel, when));
            }
        }
        Later(answered, when =>
        {
            if (_engine.Answer(raised.Alarm.Occurrence, DemoFacility.Keeper, At(when), out _) is { } change)
            {
                _changes.Add(change);
            }
        });
    }

    private void Call(AlarmKey key, Guid occurrence, string who, string channel, Instant at)
    {
        if (_engine.Alarms.GetValueOrDefault(key) is not { State: AlarmState.Unacknowledged } alarm || alarm.Occurrence != occurrence)
        {
            return;
        }
        var state = AlarmRows.Words(alarm.State);
        _lines.Add(new AlarmJournalRecord
        {
            Occurrence = occurrence,
            Incubator = key.Incubator,
            Probe = key.Probe,
            Quantity = key.Quantity.Name ?? "",
            Condition = AlarmRows.Words(key.Condition),
            Severity = AlarmRows.Words(key.Severity),
            Event = "called",
            FromState = state,
            ToState = state,
            At = at,
            Value = alarm.Value,
            Limit = alarm.Limit,
            By = who,
            Words = $"{who} was called by {channel}.",
        });
    }

    private void Later(Instant at, Action<Instant> action) => _people.Enqueue(action, (at, _people.Count));

    // Of five minutes one reading is left: one taken just as a door stood open must not count for all five. It takes two.
    private static Band Patient(Band band) => band with
    {
        WarningOnDelay = Duration.Max(band.WarningOnDelay, LeastDelay),
        DangerOnDelay = Duration.Max(band.DangerOnDelay, LeastDelay),
    };

    private WordsContext Context(AlarmKey key) => new(
        DemoFacility.Incubators.Where(i => i.Key == key.Incubator).Select(i => i.Name).FirstOrDefault(key.Incubator), null, _zone, false);

    private static AlarmTime At(Instant at) => new(at, Duration.Zero);
}
