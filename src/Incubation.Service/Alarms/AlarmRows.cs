using System.Text.Json;
using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Storage.Records;
using NodaTime;
using NodaTime.Serialization.SystemTextJson;

namespace Incubation.Service.Alarms;

/// <summary>Alarms as they are kept in the records, and the words of their enumerations on the wire.</summary>
internal static class AlarmRows
{
    private static readonly JsonSerializerOptions Json =
        new JsonSerializerOptions(JsonSerializerDefaults.Web).ConfigureForNodaTime(DateTimeZoneProviders.Tzdb);

    public static string Words(AlarmCondition condition) => condition switch
    {
        AlarmCondition.High => "high",
        AlarmCondition.Low => "low",
        AlarmCondition.NoReading => "no reading",
        AlarmCondition.OwnTrouble => "own trouble",
        _ => "nothing from any probe",
    };

    public static string Words(AlarmSeverity severity) => severity == AlarmSeverity.Danger ? "danger" : "warning";

    public static string Words(AlarmState state) => state switch
    {
        AlarmState.Normal => "normal",
        AlarmState.Unacknowledged => "unacknowledged",
        AlarmState.Acknowledged => "acknowledged",
        _ => "returned to normal, unacknowledged",
    };

    public static string Words(AlarmStep step) => step switch
    {
        AlarmStep.Raised => "raised",
        AlarmStep.RaisedAgain => "raised again",
        AlarmStep.Returned => "returned",
        AlarmStep.Answered => "answered",
        _ => "ended",
    };

    /// <summary>The key as text. Names hold no slash: it parts the levels of a topic.</summary>
    public static string Text(in AlarmKey key)
        => $"{key.Incubator}/{key.Probe}/{key.Quantity.Name}/{key.Condition}/{key.Severity}";

    public static AlarmKey? Key(string text)
    {
        string[] parts = text.Split('/');
        return parts.Length == 5 && Enum.TryParse(parts[3], out AlarmCondition condition) && Enum.TryParse(parts[4], out AlarmSeverity severity)
            ? new AlarmKey(parts[0], parts[1], parts[2].Length == 0 ? default : new Quantity(parts[2]), condition, severity)
            : null;
    }

    public static string Snapshot(AlarmSnapshot alarm) => JsonSerializer.Serialize(alarm, Json);

    public static AlarmSnapshot? Snapshot(string json)
    {
        try
        {
            return JsonSerializer.Deserialize<AlarmSnapshot>(json, Json);
        }
        catch (JsonException)
        {
            return null;
        }
    }

    public static AlarmJournalRecord Journal(AlarmChange change, string words, string? by) => new()
    {
        Occurrence = change.Alarm.Occurrence,
        Incubator = change.Key.Incubator,
        Probe = change.Key.Probe,
        Quantity = change.Key.Quantity.Name ?? "",
        Condition = Words(change.Key.Condition),
        Severity = Words(change.Key.Severity),
        Event = Words(change.Step),
        FromState = Words(change.From),
        ToState = Words(change.Alarm.State),
        At = change.At,
        Value = change.Alarm.Value,
        Limit = change.Alarm.Limit,
        By = by,
        Words = words,
    };
}
