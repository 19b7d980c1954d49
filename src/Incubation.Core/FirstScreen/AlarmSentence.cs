using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Core.FirstScreen;

/// <summary>One alarm in words: what is wrong, where, by how much and for how long; and who has it.</summary>
public static class AlarmSentence
{
    /// <summary>"Hazel is too warm: 34.1 °C, 0.6 °C above the danger limit of 33.5 °C, for 12 minutes."</summary>
    /// <param name="facts">The alarm and its names.</param>
    /// <param name="now">The moment it is said.</param>
    /// <param name="scale">Scale of temperatures.</param>
    public static string What(AlarmFacts facts, Instant now, TemperatureScale scale)
    {
        StandingAlarm alarm = facts.Alarm;
        string since = Spoken.Length(now - alarm.RaisedAt);
        if (alarm.State == AlarmState.ReturnedUnacknowledged)
        {
            return Returned(facts, now, scale);
        }

        return alarm.Key.Condition switch
        {
            AlarmCondition.NothingFromAnyProbe =>
                $"Nothing is heard from any probe, for {Silence(facts, now)}: look at the mains, the network and this service's machine.",
            AlarmCondition.OwnTrouble => $"{OwnTroubles.Of(alarm.Key.Probe).Stands}.",
            AlarmCondition.NoReading =>
                facts.Last is { } last
                    ? $"{Place(facts)} is not seen: probe {facts.ProbeName} has sent no good {last.Quantity.Name} for {Silence(facts, now)}; the last was {Spoken.Value(last.Value, last.Quantity, scale)}."
                    : $"{Place(facts)} is not seen: probe {facts.ProbeName} sends nothing good; alarm for {since}.",
            _ => $"{Place(facts)} is {Too(alarm.Key)}{Numbers(alarm, scale)}, for {since}.",
        };
    }

    /// <summary>Who has it and who is called next: "Nobody has answered. Mara is called at 03:12."</summary>
    /// <param name="alarm">The alarm.</param>
    /// <param name="zone">The facility's zone.</param>
    /// <param name="somebodyIsCalled">Whether anybody is in the call-out order and can be reached.</param>
    public static string Who(StandingAlarm alarm, DateTimeZone zone, bool somebodyIsCalled)
    {
        if (alarm.AnsweredBy is { } who)
        {
            return alarm.AnsweredAt is { } at ? $"{who} is on it since {Spoken.Time(at, zone)}." : $"{who} is on it.";
        }

        if (alarm.State == AlarmState.ReturnedUnacknowledged)
        {
            return "Nobody has answered. Say that you have seen it.";
        }

        if (alarm.NextCall is { } next)
        {
            return $"Nobody has answered. {next.Who} is called at {Spoken.Time(next.At, zone)}.";
        }

        return somebodyIsCalled ? "Nobody has answered, and no further call is due." : "Nobody has answered, and nobody is called.";
    }

    private static string Silence(AlarmFacts facts, Instant now) => Spoken.Length(now - (facts.Last?.At ?? facts.Alarm.RaisedAt));

    private static string Returned(AlarmFacts facts, Instant now, TemperatureScale scale)
    {
        StandingAlarm alarm = facts.Alarm;
        string ago = alarm.ReturnedAt is { } at ? $" {Spoken.Length(now - at)} ago" : "";
        return alarm.Key.Condition switch
        {
            AlarmCondition.NothingFromAnyProbe => $"Nothing was heard from any probe; they came back{ago}.",
            AlarmCondition.OwnTrouble => $"{OwnTroubles.Of(alarm.Key.Probe).Over}{(ago.Length == 0 ? "" : $"; that was{ago}")}.",
            AlarmCondition.NoReading => $"Probe {facts.ProbeName} in {Place(facts)} was silent and came back{ago}.",
            _ => $"{Place(facts)} was {Too(alarm.Key)}{Worst(alarm, scale)} and came back{ago}.",
        };
    }

    private static string Worst(StandingAlarm alarm, TemperatureScale scale)
        => alarm.Peak is { } peak ? $", {(alarm.Key.Condition == AlarmCondition.High ? "up" : "down")} to {Spoken.Value(peak, alarm.Key.Quantity, scale)}," : "";

    private static string Numbers(StandingAlarm alarm, TemperatureScale scale)
    {
        if (alarm.Value is not { } value)
        {
            return "";
        }

        Quantity quantity = alarm.Key.Quantity;
        string text = $": {Spoken.Value(value, quantity, scale)}";
        if (alarm.Limit is not { } limit)
        {
            return text;
        }

        string severity = alarm.Key.Severity == AlarmSeverity.Danger ? "danger" : "warning";
        bool high = alarm.Key.Condition == AlarmCondition.High;
        bool beyond = high ? value > limit : value < limit;
        string side = high == beyond ? "above" : "below";
        string by = beyond ? $"{Spoken.Difference(value - limit, quantity, scale)} {side}" : $"back {side}";
        return $"{text}, {by} the {severity} limit of {Spoken.Value(limit, quantity, scale)}";
    }

    private static string Too(AlarmKey key) => (key.Quantity.Name, key.Condition) switch
    {
        ("temperature", AlarmCondition.High) => "too warm",
        ("temperature", _) => "too cold",
        ("humidity", AlarmCondition.High) => "too humid",
        ("humidity", _) => "too dry",
        (string name, AlarmCondition.High) => $"too high in {name}",
        (string name, _) => $"too low in {name}",
    };

    private static string Place(AlarmFacts facts) => facts.IncubatorName.Length > 0 ? facts.IncubatorName : "The facility";
}
