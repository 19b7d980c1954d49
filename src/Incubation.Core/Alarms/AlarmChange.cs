using NodaTime;

namespace Incubation.Core.Alarms;

/// <summary>The time an engine is told: the steady one it reckons with, and how far the clock on the wall is ahead of it.</summary>
/// <param name="Steady">Never jumps; delays are measured on it.</param>
/// <param name="WallAhead">Wall clock minus steady clock; zero in replay.</param>
public readonly record struct AlarmTime(Instant Steady, Duration WallAhead)
{
    /// <summary>What people read.</summary>
    public Instant Wall => Steady + WallAhead;
}

/// <summary>What happened to an alarm.</summary>
public enum AlarmStep
{
    /// <summary>It was raised.</summary>
    Raised,

    /// <summary>It had returned to normal, unanswered, and is wrong again.</summary>
    RaisedAgain,

    /// <summary>Its condition is over.</summary>
    Returned,

    /// <summary>Someone is on it.</summary>
    Answered,

    /// <summary>What it was about is gone: see <see cref="AlarmChange.Reason"/>.</summary>
    Ended,
}

/// <summary>Why an alarm ended although nothing was measured.</summary>
public enum EndReason
{
    /// <summary>It did not end that way.</summary>
    None,

    /// <summary>The incubator was taken out of use.</summary>
    IncubatorRetired,

    /// <summary>The band no longer has that limit.</summary>
    LimitRemoved,

    /// <summary>The band was changed and the value is inside the new one.</summary>
    BandChanged,

    /// <summary>No probe is placed in the incubator any more.</summary>
    NoProbeLeft,

    /// <summary>The probe was taken out or moved elsewhere.</summary>
    ProbeMoved,
}

/// <summary>One occurrence of an alarm as it stands: all that a restart needs to go on. Times are wall times.</summary>
/// <param name="Occurrence">Names it for good.</param>
/// <param name="State">Its state.</param>
/// <param name="RaisedAt">When it was first raised.</param>
/// <param name="CallingSince">When it was last announced: calls are counted from here. Later than <paramref name="RaisedAt"/> when it came again.</param>
/// <param name="Value">Value at the last step, or null.</param>
/// <param name="Limit">The limit, or null.</param>
/// <param name="Peak">Furthest value beyond, or null.</param>
/// <param name="AnsweredBy">Who is on it, or null.</param>
/// <param name="AnsweredAt">Since when, or null.</param>
/// <param name="ReturnedAt">When the condition ended, or null while it holds.</param>
public sealed record AlarmSnapshot(
    Guid Occurrence, AlarmState State, Instant RaisedAt, Instant CallingSince, double? Value, double? Limit, double? Peak,
    string? AnsweredBy, Instant? AnsweredAt, Instant? ReturnedAt);

/// <summary>One step of one alarm.</summary>
/// <param name="Step">What happened.</param>
/// <param name="Key">To which alarm.</param>
/// <param name="From">Its state before.</param>
/// <param name="At">When, on the wall.</param>
/// <param name="Alarm">How it stands now; <see cref="AlarmSnapshot.State"/> may be <see cref="AlarmState.Normal"/>.</param>
/// <param name="Reason">Why, for <see cref="AlarmStep.Ended"/>.</param>
public sealed record AlarmChange(AlarmStep Step, AlarmKey Key, AlarmState From, Instant At, AlarmSnapshot Alarm, EndReason Reason = EndReason.None);

/// <summary>A probe and the incubator it is placed in.</summary>
/// <param name="Probe">Name of the probe.</param>
/// <param name="Incubator">Key of the incubator.</param>
public readonly record struct ProbePlace(string Probe, string Incubator);
