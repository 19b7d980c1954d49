namespace Incubation.Core.Alarms;

/// <summary>What can happen to an alarm.</summary>
public enum AlarmTrigger
{
    /// <summary>The condition holds, its on-delay over.</summary>
    Abnormal,

    /// <summary>The condition no longer holds, its deadband and off-delay over.</summary>
    Normal,

    /// <summary>Someone says "I am on it".</summary>
    Acknowledge,

    /// <summary>An acknowledged alarm is announced again because it has stood too long.</summary>
    ReAlarm,
}

/// <summary>
/// The core four states of an alarm and the ways between them, after the state transition diagram of IEC 62682 (ANSI/ISA-18.2).
/// What does not apply in a state has no effect and is no error. Choices the standard leaves open: a return to normal that nobody
/// answered waits for an answer; an alarm that comes again before that is the same occurrence, announced anew.
/// </summary>
public static class AlarmMachine
{
    /// <summary>The state after <paramref name="trigger"/>.</summary>
    public static AlarmState Next(AlarmState state, AlarmTrigger trigger) => (state, trigger) switch
    {
        (AlarmState.Normal, AlarmTrigger.Abnormal) => AlarmState.Unacknowledged,
        (AlarmState.Unacknowledged, AlarmTrigger.Acknowledge) => AlarmState.Acknowledged,
        (AlarmState.Unacknowledged, AlarmTrigger.Normal) => AlarmState.ReturnedUnacknowledged,
        (AlarmState.Acknowledged, AlarmTrigger.Normal) => AlarmState.Normal,
        (AlarmState.Acknowledged, AlarmTrigger.ReAlarm) => AlarmState.Unacknowledged,
        (AlarmState.ReturnedUnacknowledged, AlarmTrigger.Acknowledge) => AlarmState.Normal,
        (AlarmState.ReturnedUnacknowledged, AlarmTrigger.Abnormal) => AlarmState.Unacknowledged,
        _ => state,
    };

    /// <summary>Whether the condition holds in this state.</summary>
    public static bool IsAbnormal(AlarmState state) => state is AlarmState.Unacknowledged or AlarmState.Acknowledged;

    /// <summary>Whether somebody is to be called in this state.</summary>
    public static bool IsCalling(AlarmState state) => state == AlarmState.Unacknowledged;
}
