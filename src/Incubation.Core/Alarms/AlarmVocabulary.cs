using Incubation.Core.Readings;

namespace Incubation.Core.Alarms;

/// <summary>What an alarm is about.</summary>
public enum AlarmCondition
{
    /// <summary>Above a limit of the band.</summary>
    High,

    /// <summary>Below a limit of the band.</summary>
    Low,

    /// <summary>A placed probe has sent no good reading for its time.</summary>
    NoReading,

    /// <summary>No placed probe at all has sent anything: mains, network or broker.</summary>
    NothingFromAnyProbe,

    /// <summary>The service itself is in a trouble of <see cref="OwnTroubles"/>; <see cref="AlarmKey.Probe"/> is its kind.</summary>
    OwnTrouble,
}

/// <summary>How bad it is. Warning and danger of one condition are two alarms; answering one never silences the other.</summary>
public enum AlarmSeverity
{
    /// <summary>Out of the band: act tonight.</summary>
    Warning,

    /// <summary>Eggs may be lost: act now.</summary>
    Danger,
}

/// <summary>States of an alarm as IEC 62682 names them (the core four; the suppressed ones come with planned work).</summary>
public enum AlarmState
{
    /// <summary>Nothing wrong.</summary>
    Normal,

    /// <summary>Wrong, and nobody has answered.</summary>
    Unacknowledged,

    /// <summary>Wrong, and someone is on it.</summary>
    Acknowledged,

    /// <summary>Right again, but nobody has answered yet.</summary>
    ReturnedUnacknowledged,
}

/// <summary>Names one alarm for good; its occurrences come and go.</summary>
/// <param name="Incubator">Key of the incubator, or empty for the whole facility.</param>
/// <param name="Probe">Name of the probe for <see cref="AlarmCondition.NoReading"/>, kind of an own trouble, else empty.</param>
/// <param name="Quantity">Quantity judged, or default where the condition is not about one.</param>
/// <param name="Condition">What it is about.</param>
/// <param name="Severity">How bad it is.</param>
public readonly record struct AlarmKey(
    string Incubator, string Probe, Quantity Quantity, AlarmCondition Condition, AlarmSeverity Severity);
