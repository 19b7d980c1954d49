using NodaTime;

namespace Incubation.Core.Alarms;

/// <summary>
/// Every alarm that is not normal, and its steps through <see cref="AlarmMachine"/>. Pure: ids come from the caller, times too.
/// </summary>
/// <param name="newOccurrence">Gives a name for a new occurrence.</param>
public sealed class AlarmBook(Func<Guid> newOccurrence)
{
    private readonly Dictionary<AlarmKey, AlarmSnapshot> _alarms = [];

    /// <summary>What stands, in no order.</summary>
    public IReadOnlyDictionary<AlarmKey, AlarmSnapshot> Alarms => _alarms;

    /// <summary>Puts back what stood before a restart; a normal one is left out.</summary>
    public void Restore(in AlarmKey key, AlarmSnapshot alarm)
    {
        ArgumentNullException.ThrowIfNull(alarm);
        if (alarm.State != AlarmState.Normal)
        {
            _alarms[key] = alarm;
        }
    }

    /// <summary>The condition holds.</summary>
    public void Raise(in AlarmKey key, AlarmTime now, Instant at, double? value, double? limit, ICollection<AlarmChange> changes)
    {
        ArgumentNullException.ThrowIfNull(changes);
        Instant wall = at + now.WallAhead;
        AlarmSnapshot? former = _alarms.GetValueOrDefault(key);
        AlarmState from = former?.State ?? AlarmState.Normal;
        AlarmState to = AlarmMachine.Next(from, AlarmTrigger.Abnormal);
        if (to == from)
        {
            return;
        }

        AlarmSnapshot alarm = former is null
            ? new AlarmSnapshot(newOccurrence(), to, wall, wall, value, limit, value, null, null, null)
            : former with { State = to, CallingSince = wall, Value = value, Limit = limit, ReturnedAt = null };
        Keep(key, from, alarm, former is null ? AlarmStep.Raised : AlarmStep.RaisedAgain, wall, changes);
    }

    /// <summary>The condition no longer holds.</summary>
    public void Return(in AlarmKey key, AlarmTime now, Instant at, double? value, double? peak, ICollection<AlarmChange> changes)
    {
        ArgumentNullException.ThrowIfNull(changes);
        if (_alarms.TryGetValue(key, out AlarmSnapshot? alarm) && AlarmMachine.IsAbnormal(alarm.State))
        {
            Instant wall = at + now.WallAhead;
            AlarmSnapshot next = alarm with
            {
                State = AlarmMachine.Next(alarm.State, AlarmTrigger.Normal),
                Value = value,
                Peak = peak ?? alarm.Peak,
                ReturnedAt = wall,
            };
            Keep(key, alarm.State, next, AlarmStep.Returned, wall, changes);
        }
    }

    /// <summary>What the alarm was about is gone.</summary>
    public void End(in AlarmKey key, AlarmTime now, EndReason reason, ICollection<AlarmChange> changes)
    {
        ArgumentNullException.ThrowIfNull(changes);
        if (_alarms.TryGetValue(key, out AlarmSnapshot? alarm))
        {
            AlarmSnapshot next = alarm with { State = AlarmState.Normal, ReturnedAt = alarm.ReturnedAt ?? now.Wall };
            _alarms.Remove(key);
            changes.Add(new AlarmChange(AlarmStep.Ended, key, alarm.State, now.Wall, next, reason));
        }
    }

    /// <summary>Someone is on it.</summary>
    /// <returns>The step, or null when it was answered already (<paramref name="standing"/> says how it stands) or is not known.</returns>
    public AlarmChange? Answer(Guid occurrence, string by, AlarmTime now, out AlarmSnapshot? standing)
    {
        foreach ((AlarmKey key, AlarmSnapshot alarm) in _alarms)
        {
            if (alarm.Occurrence != occurrence)
            {
                continue;
            }

            standing = alarm;
            AlarmState to = AlarmMachine.Next(alarm.State, AlarmTrigger.Acknowledge);
            if (to == alarm.State)
            {
                return null;
            }

            standing = alarm with { State = to, AnsweredBy = by, AnsweredAt = now.Wall };
            List<AlarmChange> changes = [];
            Keep(key, alarm.State, standing, AlarmStep.Answered, now.Wall, changes);
            return changes[0];
        }

        standing = null;
        return null;
    }

    private void Keep(in AlarmKey key, AlarmState from, AlarmSnapshot alarm, AlarmStep step, Instant at, ICollection<AlarmChange> changes)
    {
        if (alarm.State == AlarmState.Normal)
        {
            _alarms.Remove(key);
        }
        else
        {
            _alarms[key] = alarm;
        }

        changes.Add(new AlarmChange(step, key, from, at, alarm));
    }
}
