using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Service.Facility;
using Incubation.Service.Hosting;
using Incubation.Service.Probes;
using Incubation.Service.Readings;
using Microsoft.Extensions.Options;
using NodaTime;

namespace Incubation.Service.Alarms;

/// <summary>Puts alarms into words with the names and the zone of this facility.</summary>
internal sealed class AlarmSpeech(
    IFacility facility, ServiceClock clock, IOptions<IncubationOptions> options, ProbeRegister? probes = null, ILatestReadings? latest = null)
{
    private readonly DateTimeZone _zone = DateTimeZoneProviders.Tzdb.GetZoneOrNull(options.Value.Facility.Zone) ?? DateTimeZone.Utc;

    public string IncubatorName(string key)
        => key.Length == 0 ? options.Value.Facility.Name : facility.Current.Incubators.FirstOrDefault(i => i.Key == key)?.Name ?? key;

    /// <summary>What people call a probe.</summary>
    public string ProbeName(string key) => probes?.Find(key)?.Name is { Length: > 0 } name ? name : key;

    /// <summary>For a silence: what was known last. Of one probe the series that has been missing longest; of all probes the newest reading.</summary>
    public LastKnown? Last(in AlarmKey key)
    {
        string probe = key.Probe;
        IEnumerable<Reading> good = key.Condition is AlarmCondition.High or AlarmCondition.Low || latest is null ? []
            : latest.Series.Where(s => probe.Length == 0 || s.Probe == probe)
                .Select(s => latest.LatestGood(s)).OfType<Reading>().OrderBy(r => r.ArrivedAt);
        Reading[] known = [.. good];
        if (known.Length == 0)
        {
            return null;
        }

        Reading last = key.Condition == AlarmCondition.NoReading ? known[0] : known[^1];
        return new LastKnown(last.Series.Quantity, last.Value, last.ArrivedAt);
    }

    public string Say(StandingAlarm alarm, bool fahrenheit = false)
        => AlarmWords.Sentence(
            alarm.Key, alarm.Value, alarm.Limit, alarm.RaisedAt, alarm.ReturnedAt, clock.Wall, Context(alarm.Key, fahrenheit));

    public string Line(StandingAlarm alarm) => AlarmWords.Headline(alarm.Key, alarm.Value, Context(alarm.Key, fahrenheit: false));

    public string Say(AlarmChange change) => Say(change, Context(change.Key, fahrenheit: false));

    /// <summary>One step of an alarm as the journal says it.</summary>
    public static string Say(AlarmChange change, WordsContext context)
    {
        AlarmSnapshot a = change.Alarm;
        string sentence = AlarmWords.Sentence(change.Key, a.Value, a.Limit, a.RaisedAt, a.ReturnedAt, change.At, context);
        return change.Step switch
        {
            AlarmStep.Answered => $"{a.AnsweredBy} is on it. {sentence}",
            AlarmStep.Ended => $"{AlarmWords.Headline(change.Key, null, context)}: ended because {AlarmWords.Because(change.Reason)}.",
            _ => sentence,
        };
    }

    private WordsContext Context(in AlarmKey key, bool fahrenheit)
        => new(IncubatorName(key.Incubator), key.Probe.Length == 0 ? null : ProbeName(key.Probe), _zone, fahrenheit, Last(key));
}
