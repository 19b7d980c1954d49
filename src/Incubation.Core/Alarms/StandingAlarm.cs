using NodaTime;

namespace Incubation.Core.Alarms;

/// <summary>An alarm that is not back to normal and answered: what a person is shown.</summary>
/// <param name="Occurrence">Names this occurrence for good; answers and calls refer to it.</param>
/// <param name="Key">Which alarm.</param>
/// <param name="State">Its state; never <see cref="AlarmState.Normal"/>.</param>
/// <param name="RaisedAt">When it was raised.</param>
/// <param name="Value">Latest good value, in the quantity's unit, or null where the condition has none.</param>
/// <param name="Limit">The limit that was passed, or null.</param>
/// <param name="Peak">Furthest value beyond the limit since it was raised, or null.</param>
/// <param name="AnsweredBy">Who is on it, or null.</param>
/// <param name="AnsweredAt">Since when, or null.</param>
/// <param name="ReturnedAt">When it came back inside, or null.</param>
/// <param name="NextCall">Who is called next, or null when nobody will be.</param>
public sealed record StandingAlarm(
    Guid Occurrence, AlarmKey Key, AlarmState State, Instant RaisedAt, double? Value, double? Limit, double? Peak,
    string? AnsweredBy, Instant? AnsweredAt, Instant? ReturnedAt, NextCall? NextCall);

/// <summary>The next call of an occurrence that nobody has answered.</summary>
/// <param name="Who">Name of the person.</param>
/// <param name="At">When.</param>
public sealed record NextCall(string Who, Instant At);
