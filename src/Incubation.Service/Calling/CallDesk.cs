using System.Threading.Channels;
using Incubation.Core.Alarms;
using Incubation.Service.Alarms;
using Incubation.Service.Hosting;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Calling;

/// <summary>
/// Looks at what stands after every change and at every due time, and hands calls to the outbox. It goes by levels, not by events: a
/// change that was missed is seen at the next look.
/// </summary>
internal sealed class CallDesk : IDisposable
{
    private readonly Channel<bool> _wake = Channel.CreateBounded<bool>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });
    private readonly Dictionary<(Guid Occurrence, Guid Step), CallsMade> _made = [];
    private readonly Dictionary<Guid, (Instant Wall, Instant Steady)> _announced = [];
    private readonly AlarmDesk _desk;
    private readonly CallOrder _order;
    private readonly Outbox _outbox;
    private readonly CallPlan _plan;
    private readonly CallFaults _faults;
    private readonly AlarmSpeech _speech;
    private readonly ServiceClock _clock;
    private readonly ITimer _timer;

    public CallDesk(AlarmDesk desk, CallOrder order, Outbox outbox, CallPlan plan, CallFaults faults, AlarmSpeech speech, ServiceClock clock)
    {
        (_desk, _order, _outbox, _plan, _faults, _speech, _clock) = (desk, order, outbox, plan, faults, speech, clock);
        _timer = clock.Provider.CreateTimer(_ => Wake(), null, Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
        desk.Changed += Wake;
        order.Changed += Wake;
    }

    /// <summary>Reads the order and what was called before the restart. After the alarm desk, before anything is called.</summary>
    public async Task LoadAsync(IDbContextFactory<RecordsContext> records, CancellationToken cancellationToken)
    {
        await _order.LoadAsync(cancellationToken);
        HashSet<Guid> standing = [.. _desk.Standing().Where(a => a.State != AlarmState.Acknowledged).Select(a => a.Occurrence)];
        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        List<CallRecord> rows = await context.Calls.Where(c => c.Status == "waiting" || standing.Contains(c.Occurrence))
            .OrderBy(c => c.CreatedAt).ToListAsync(cancellationToken);
        foreach (CallRecord row in rows)
        {
            CallMessage? message = CallMessage.Parse(row.Message);
            bool back = message?.Type == CallMessage.Returned;
            CallsMade made = _made.GetValueOrDefault((row.Occurrence, row.Step));
            Instant at = ToSteady(row.CreatedAt);
            _made[(row.Occurrence, row.Step)] = back
                ? made with { ToldBack = true }
                : new CallsMade(Math.Max(made.Calls, row.Round + 1), Instant.Max(made.LastAt, at), false);
            if (row.Status != "waiting")
            {
                continue;
            }

            if (message is null || !standing.Contains(row.Occurrence))
            {
                row.Status = "not needed";
            }
            else
            {
                _outbox.Add(row, message, written: true);
            }
        }

        await context.SaveChangesAsync(cancellationToken);
        await LoadFaultsAsync(context, cancellationToken);
        Wake();
    }

    public async Task RunAsync(Action progress, CancellationToken stop)
    {
        // A look that failed may have swallowed its wake: after a restart of this worker there is a look in any case.
        Wake();
        while (true)
        {
            await _wake.Reader.ReadAsync(stop);
            progress();
            Look();
        }
    }

    public CallOutHealth Health()
    {
        OrderedStep[] steps = [.. _order.Steps.Where(s => s.Enabled)];
        if (steps.Length == 0)
        {
            return new CallOutHealth(false, "Nobody is in the call-out order: an alarm would wake nobody.");
        }

        string[] failing = [.. steps.Select(s => _faults.Of(s.Step.Id, s.Address)?.Words(s.Step.Who, s.Channel)).OfType<string>()];
        OrderedStep first = steps.MinBy(s => s.Step.After)!;
        return failing.Length == 0
            ? new CallOutHealth(true, $"{first.Step.Who} is called first, by {first.Channel}.")
            : new CallOutHealth(failing.Length < steps.Length, string.Join(' ', failing));
    }

    public void Dispose()
    {
        _desk.Changed -= Wake;
        _order.Changed -= Wake;
        _timer.Dispose();
        _wake.Writer.TryComplete();
    }

    private async Task LoadFaultsAsync(RecordsContext context, CancellationToken cancellationToken)
    {
        foreach (OrderedStep step in _order.Steps)
        {
            CallRecord? newest = await context.Calls.AsNoTracking().Where(c => c.Step == step.Step.Id && c.Status != "not needed")
                .OrderByDescending(c => c.CreatedAt).FirstOrDefaultAsync(cancellationToken);
            if (newest is { LastError: { } error, Status: not "delivered" } && newest.Address == step.Address)
            {
                _faults.Restore(step.Step.Id, step.Address, newest.CreatedAt, newest.Attempts, error);
            }
        }
    }

    private void Wake() => _wake.Writer.TryWrite(true);

    /// <summary>Makes every call that is due, plans the next ones, and sets the timer.</summary>
    private void Look()
    {
        IReadOnlyList<StandingAlarm> standing = _desk.Standing();
        IReadOnlyDictionary<Guid, Instant> announced = _desk.Announced();
        HashSet<Guid> calling = [.. standing.Where(a => a.State != AlarmState.Acknowledged).Select(a => a.Occurrence)];
        _outbox.NotNeeded(occurrence => !calling.Contains(occurrence));
        bool nothing = standing.Any(a => a.Key.Condition == AlarmCondition.NothingFromAnyProbe && AlarmMachine.IsAbnormal(a.State));
        Instant now = _clock.Steady;
        Instant soonest = Instant.MaxValue;
        Dictionary<Guid, NextCall> next = [];
        foreach (StandingAlarm alarm in standing)
        {
            // While nothing at all is heard, that is the one thing to say.
            if (nothing && alarm.Key.Condition == AlarmCondition.NoReading)
            {
                continue;
            }

            Instant since = Announced(alarm, announced, now);
            foreach (OrderedStep step in _order.Steps.Where(s => s.Enabled))
            {
                PlannedCall? planned = Plan(step, alarm, since);
                if (planned is { } due && due.At <= now)
                {
                    Call(step, alarm, due, now);
                    planned = Plan(step, alarm, since);
                }

                if (planned is not { } later)
                {
                    continue;
                }

                soonest = Instant.Min(soonest, later.At);
                if (!next.TryGetValue(alarm.Occurrence, out NextCall? first) || _clock.ToWall(later.At) < first.At)
                {
                    next[alarm.Occurrence] = new NextCall(step.Step.Who, _clock.ToWall(later.At));
                }
            }
        }

        _plan.Replace(next);
        _faults.Keep([.. _order.Steps.Select(s => s.Step.Id)]);
        Forget(standing);
        // Reckoned from the time it is now: calls have been made meanwhile.
        Arm(soonest, _clock.Steady);
    }

    private PlannedCall? Plan(OrderedStep step, StandingAlarm alarm, Instant since)
        => CallOut.Next(step.Step, alarm.State, since,
            alarm.ReturnedAt is Instant back ? ToSteady(back) : null, _made.GetValueOrDefault((alarm.Occurrence, step.Step.Id)));

    private void Call(OrderedStep step, StandingAlarm alarm, PlannedCall due, Instant now)
    {
        CallsMade made = _made.GetValueOrDefault((alarm.Occurrence, step.Step.Id));
        _made[(alarm.Occurrence, step.Step.Id)] = due.Back ? made with { ToldBack = true } : new CallsMade(made.Calls + 1, now, false);
        AlarmView view = AlarmView.Of(alarm, _speech);
        var message = new CallMessage(
            due.Back ? CallMessage.Returned : CallMessage.Raised, _clock.Wall,
            due.Back ? $"Back inside, nobody answered: {_speech.Line(alarm)}" : _speech.Line(alarm),
            new CallData(
                alarm.Occurrence, view.Incubator, view.IncubatorName, view.Probe, view.Quantity, alarm.Key.Quantity.Unit is { Length: > 0 } unit ? unit : null,
                view.Condition, view.Severity, view.State, alarm.Value, alarm.Limit, alarm.RaisedAt, view.Words, null));
        _outbox.Add(
            new CallRecord
            {
                Id = CallMessage.Id(alarm.Occurrence, step.Step.Id, due.Round, due.Back),
                Occurrence = alarm.Occurrence,
                Step = step.Step.Id,
                Round = due.Round,
                Who = step.Step.Who,
                Channel = step.Channel,
                Address = step.Address,
                Status = "waiting",
                CreatedAt = _clock.Wall,
                Message = message.Json(),
            },
            message, written: false);
    }

    // Announcements are told in wall time; calls are reckoned on the clock that never jumps, from when they were first seen.
    private Instant Announced(StandingAlarm alarm, IReadOnlyDictionary<Guid, Instant> announced, Instant now)
    {
        Instant wall = announced.GetValueOrDefault(alarm.Occurrence, alarm.RaisedAt);
        if (!_announced.TryGetValue(alarm.Occurrence, out (Instant Wall, Instant Steady) seen) || seen.Wall != wall)
        {
            seen = (wall, Instant.Min(now, ToSteady(wall)));
            _announced[alarm.Occurrence] = seen;
        }

        return seen.Steady;
    }

    private Instant ToSteady(Instant wall) => Instant.Min(_clock.Steady, wall - (_clock.Wall - _clock.Steady));

    private void Forget(IReadOnlyList<StandingAlarm> standing)
    {
        HashSet<Guid> stay = [.. standing.Select(a => a.Occurrence)];
        foreach ((Guid Occurrence, Guid Step) key in _made.Keys.Where(k => !stay.Contains(k.Occurrence)).ToArray())
        {
            _made.Remove(key);
        }

        foreach (Guid occurrence in _announced.Keys.Where(o => !stay.Contains(o)).ToArray())
        {
            _announced.Remove(occurrence);
        }
    }

    private void Arm(Instant soonest, Instant now)
    {
        double wait = soonest == Instant.MaxValue ? -1 : Math.Clamp(Math.Ceiling((soonest - now).TotalMilliseconds), 0, int.MaxValue);
        _timer.Change(TimeSpan.FromMilliseconds(wait), Timeout.InfiniteTimeSpan);
    }
}
