using Incubation.Core.Alarms;
using Incubation.Core.FirstScreen;
using Incubation.Service.Alarms;
using NodaTime;
using NodaTime.Text;

namespace Incubation.Service.FirstScreen;

/// <summary>The words of the first screen's JSON for what Core has as enums and instants.</summary>
internal static class NowWords
{
    // Whole seconds: nobody reads milliseconds, and RFC 3339 doesn't ask for them.
    private static readonly InstantPattern Rfc3339 = InstantPattern.General;

    public static string Time(Instant at) => Rfc3339.Format(at);

    public static string? Time(Instant? at) => at is { } instant ? Rfc3339.Format(instant) : null;

    public static string Of(BandStanding standing) => standing switch
    {
        BandStanding.InBand => "in band",
        BandStanding.WarningHigh => "warning high",
        BandStanding.DangerHigh => "danger high",
        BandStanding.WarningLow => "warning low",
        BandStanding.DangerLow => "danger low",
        _ => "not judged",
    };

    public static string Of(ReadingQuality quality) => quality switch
    {
        ReadingQuality.Good => "good",
        ReadingQuality.Faulty => "faulty",
        ReadingQuality.Silent => "silent",
        _ => "unknown",
    };

    public static string Of(HeadlineTone tone) => tone switch
    {
        HeadlineTone.Calm => "calm",
        HeadlineTone.Warning => "warning",
        HeadlineTone.Danger => "danger",
        _ => "unknown",
    };

    public static AlarmNow Of(AlarmFacts facts, Instant now, TemperatureScale scale)
    {
        StandingAlarm alarm = facts.Alarm;
        return new AlarmNow(
            alarm.Occurrence, alarm.Key.Incubator, facts.IncubatorName, alarm.Key.Probe, alarm.Key.Quantity.Name ?? "",
            AlarmRows.Words(alarm.Key.Condition), AlarmRows.Words(alarm.Key.Severity), AlarmRows.Words(alarm.State),
            Time(alarm.RaisedAt), alarm.Value, alarm.Limit, alarm.Peak, alarm.AnsweredBy, Time(alarm.AnsweredAt), Time(alarm.ReturnedAt),
            alarm.NextCall is { } next ? new NextCallNow(next.Who, Time(next.At)) : null,
            AlarmSentence.What(facts, now, scale));
    }
}
