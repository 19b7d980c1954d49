using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Service.Facility;
using Incubation.Service.Hosting;
using Incubation.Service.Live;
using Incubation.Service.Readings;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Alarms;

/// <summary>Who is called next about an occurrence, as the call desk has planned.</summary>
internal interface ICallPlan
{
    NextCall? Next(Guid occurrence);
}

/// <summary>
/// The shell around <see cref="AlarmEngine"/>: readings, the facility's changes and one timer go in under a lock; what comes out is
/// remembered by <see cref="RecordsWriter"/> and told to whoever listens. It never waits for the disk.
/// </summary>
internal sealed class AlarmDesk : IAlarmDesk, IReadingListener, IDisposable
{
    private readonly Lock _gate = new();
    private readonly AlarmEngine _engine;
    private readonly List<AlarmChange> _changes = [];
    private readonly ITimer _timer;
    private readonly ServiceClock _clock;
    private readonly IFacility _facility;
    private readonly RecordsWriter _writer;
    private readonly AlarmSpeech _speech;
    private readonly ICallPlan _plan;
    private readonly EndedAlarms _ended;
    private readonly ILiveFeed? _feed;
    private readonly ILogger<AlarmDesk> _log;
    private Instant _armedFor = Instant.MaxValue;
    private bool _loaded;

    public AlarmDesk(
        ServiceClock clock, IFacility facility, RecordsWriter writer, AlarmSpeech speech, ICallPlan plan, EndedAlarms ended, ILogger<AlarmDesk> log,
        ILiveFeed? feed = null)
    {
        (_clock, _facility, _writer, _speech, _plan, _ended, _log, _feed) = (clock, facility, writer, speech, plan, ended, log, feed);
        _engine = new AlarmEngine(() => Guid.CreateVersion7(clock.Provider.GetUtcNow()));
        _timer = clock.Provider.CreateTimer(_ => OnTimer(), null, Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
        facility.Changed += OnFacility;
    }

    public event Action? Changed;

    private AlarmTime Now
    {
        get
        {
            Instant steady = _clock.Steady;
            return new AlarmTime(steady, _clock.Wall - steady);
        }
    }

    /// <summary>Goes on where the service stopped. Readings that come before this are not judged.</summary>
    /// <param name="records">The records; when they can't be read the start fails, since an answered alarm would be called out anew.</param>
    /// <param name="known">Series heard before the restart: missed from now on when they stay away.</param>
    /// <param name="cancellationToken">Stops the loading.</param>
    public async Task LoadAsync(IDbContextFactory<RecordsContext> records, IEnumerable<SeriesKey> known, CancellationToken cancellationToken)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        await _ended.LoadAsync(context, cancellationToken);
        List<AlarmStateRecord> rows = await context.AlarmStates.AsNoTracking().ToListAsync(cancellationToken);
        Change(() =>
        {
            foreach (AlarmStateRecord row in rows)
            {
                if (AlarmRows.Key(row.Key) is { } key && AlarmRows.Snapshot(row.Snapshot) is { } alarm)
                {
                    _engine.Restore(key, alarm);
                }
                else
                {
                    _log.LogError("The state of alarm {Key} can't be read and starts as normal", row.Key);
                }
            }

            _loaded = true;
            Arrange(_facility.Current, known);
        });
    }

    public void Observe(in Reading reading)
    {
        bool changed;
        lock (_gate)
        {
            if (!_loaded)
            {
                return;
            }

            _engine.Observe(reading, Now, _changes);
            changed = Settle();
        }

        Tell(changed);
    }

    public IReadOnlyList<StandingAlarm> Standing()
    {
        lock (_gate)
        {
            return [.. _engine.Alarms.Select(a => Stand(a.Key, a.Value))
                .OrderByDescending(a => a.Key.Severity).ThenBy(a => a.RaisedAt).ThenBy(a => a.Occurrence)];
        }
    }

    /// <summary>When each standing occurrence was last announced, on the wall.</summary>
    public IReadOnlyDictionary<Guid, Instant> Announced()
    {
        lock (_gate)
        {
            return _engine.Alarms.Values.ToDictionary(a => a.Occurrence, a => a.CallingSince);
        }
    }

    public AnswerOutcome Answer(Guid occurrence, string by)
    {
        AnswerOutcome outcome;
        lock (_gate)
        {
            AlarmChange? change = _engine.Answer(occurrence, by, Now, out AlarmSnapshot? standing);
            outcome = change is not null ? AnswerOutcome.Answered
                : standing is not null ? AnswerOutcome.AlreadyAnswered
                : _ended.Find(occurrence) is not null ? AnswerOutcome.Over
                : AnswerOutcome.Unknown;
            if (change is not null)
            {
                _changes.Add(change);
            }

            Settle();
        }

        Tell(outcome == AnswerOutcome.Answered);
        return outcome;
    }

    /// <summary>Tells it which troubles the service itself is in.</summary>
    /// <param name="kinds">Kinds of <see cref="OwnTroubles"/>; one that is missing is over.</param>
    /// <param name="mayRaise">Whether people may be told of a new one now.</param>
    public void Judge(IReadOnlySet<string> kinds, bool mayRaise) => Change(() =>
    {
        if (_loaded)
        {
            _engine.Judge(kinds, mayRaise, Now, _changes);
        }
    });

    public void Dispose()
    {
        _facility.Changed -= OnFacility;
        _timer.Dispose();
    }

    private void OnTimer() => Change(() =>
    {
        _armedFor = Instant.MaxValue;
        _engine.Advance(Now, _changes);
    });

    private void OnFacility(FacilitySnapshot snapshot) => Change(() => Arrange(snapshot, []));

    private void Arrange(FacilitySnapshot snapshot, IEnumerable<SeriesKey> known)
    {
        if (_loaded)
        {
            _engine.Arrange(
                snapshot.Incubators.Select(i => i.Key), snapshot.Bands.Values,
                snapshot.Placements.Values.Select(p => new ProbePlace(p.Probe, p.Incubator)), known, Now, _changes);
        }
    }

    private void Change(Action change)
    {
        bool changed;
        lock (_gate)
        {
            change();
            changed = Settle();
        }

        Tell(changed);
    }

    // Under the lock: hands the steps to the writer in order, and sets the timer to the moment something is due.
    private bool Settle()
    {
        bool changed = _changes.Count > 0;
        foreach (AlarmChange change in _changes)
        {
            Remember(change);
        }

        _changes.Clear();
        if (_engine.Next < _armedFor)
        {
            _armedFor = _engine.Next;
            TimeSpan wait = (_armedFor - _clock.Steady).ToTimeSpan();
            // Timers count whole milliseconds: rounded up, so that it never comes before its time only to be set again.
            _timer.Change(
                wait <= TimeSpan.Zero ? TimeSpan.Zero : TimeSpan.FromMilliseconds(Math.Min(Math.Ceiling(wait.TotalMilliseconds), int.MaxValue)),
                Timeout.InfiniteTimeSpan);
        }

        return changed;
    }

    private void Tell(bool changed)
    {
        if (changed)
        {
            Changed?.Invoke();
            _feed?.Publish("alarms", new { });
        }
    }

    private void Remember(AlarmChange change)
    {
        AlarmJournalRecord line = AlarmRows.Journal(
            change, _speech.Say(change), change.Step == AlarmStep.Answered ? change.Alarm.AnsweredBy : null);
        string key = AlarmRows.Text(change.Key);
        bool normal = change.Alarm.State == AlarmState.Normal;
        if (normal)
        {
            _ended.Add(new EndedAlarm(line.Occurrence, change.At, change.Alarm.AnsweredBy, line.Words));
        }

        string snapshot = AlarmRows.Snapshot(change.Alarm);
        _log.LogInformation("Alarm {Event}: {Words}", line.Event, line.Words);
        _ = _writer.Add(async (records, cancel) =>
        {
            line.Id = 0;
            records.AlarmJournal.Add(line);
            AlarmStateRecord? state = await records.AlarmStates.FindAsync([key], cancel);
            if (normal && state is not null)
            {
                records.AlarmStates.Remove(state);
            }
            else if (state is not null)
            {
                // Removed and raised anew within one batch: the row is kept after all.
                var entry = records.Entry(state);
                entry.State = entry.State == EntityState.Deleted ? EntityState.Modified : entry.State;
                (state.Snapshot, state.ChangedAt) = (snapshot, change.At);
            }
            else if (!normal)
            {
                records.AlarmStates.Add(new AlarmStateRecord { Key = key, Snapshot = snapshot, ChangedAt = change.At });
            }
        });
    }

    private StandingAlarm Stand(AlarmKey key, AlarmSnapshot a)
    {
        (double? value, double? peak) = _engine.Figures(key);
        return new StandingAlarm(
            a.Occurrence, key, a.State, a.RaisedAt, value, a.Limit, peak ?? a.Peak, a.AnsweredBy, a.AnsweredAt, a.ReturnedAt,
            _plan.Next(a.Occurrence));
    }
}
