using Incubation.Core.Alarms;
using NodaTime;

namespace Incubation.Service.Alarms;

/// <summary>An alarm as it is shown.</summary>
internal sealed record AlarmView(
    Guid Occurrence, string? Incubator, string IncubatorName, string? Probe, string? Quantity, string Condition, string Severity, string State,
    Instant RaisedAt, double? Value, double? Limit, double? Peak, string? AnsweredBy, Instant? AnsweredAt, Instant? ReturnedAt,
    NextCall? NextCall, string Words)
{
    public static AlarmView Of(StandingAlarm a, AlarmSpeech speech, bool fahrenheit = false) => new(
        a.Occurrence, Some(a.Key.Incubator), speech.IncubatorName(a.Key.Incubator), Some(a.Key.Probe), Some(a.Key.Quantity.Name),
        AlarmRows.Words(a.Key.Condition), AlarmRows.Words(a.Key.Severity), AlarmRows.Words(a.State), a.RaisedAt, a.Value, a.Limit, a.Peak,
        a.AnsweredBy, a.AnsweredAt, a.ReturnedAt, a.NextCall, speech.Say(a, fahrenheit));

    private static string? Some(string? text) => string.IsNullOrEmpty(text) ? null : text;
}

/// <summary>One line of the journal.</summary>
internal sealed record JournalEntry(
    long Id, Guid Occurrence, string Incubator, string Probe, string Quantity, string Condition, string Severity, string Event,
    string FromState, string ToState, Instant At, double? Value, double? Limit, string? By, string Words);
