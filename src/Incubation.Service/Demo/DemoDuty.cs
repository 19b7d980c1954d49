using NodaTime;

namespace Incubation.Service.Demo;

/// <summary>Who is called when, and how long people took to answer, in one season.</summary>
/// <param name="Calls">First call of each person after the alarm, in order.</param>
/// <param name="Repeat">Between repeats until somebody answers.</param>
/// <param name="Overslept">Alarms raised within this are answered at its end, or null.</param>
/// <param name="Zone">By whose clock it is night.</param>
internal sealed record DemoDuty(
    IReadOnlyList<(string Who, string Channel, Duration After)> Calls, Duration Repeat, Interval? Overslept, DateTimeZone Zone)
{
    public static DemoDuty Of(string season, DemoCalendar calendar) => season switch
    {
        // In those years one mail was all there was, and it was repeated each hour.
        "first" => new([(DemoFacility.Keeper, "mail", Duration.Zero)], Duration.FromHours(1), null, calendar.Zone),
        "second" => new(
            [(DemoFacility.Keeper, "mail", Duration.Zero)], Duration.FromHours(1),
            new Interval(DemoEvents.HeaterStuckAt(calendar), DemoEvents.FoundAt(calendar)), calendar.Zone),
        _ => new(
            [(DemoFacility.Keeper, "mail", Duration.Zero), (DemoFacility.SecondKeeper, "webhook", Duration.FromSeconds(30))],
            Duration.FromMinutes(5), null, calendar.Zone),
    };

    /// <summary>When somebody answers an alarm raised then: by day soon, at night once awake.</summary>
    public Instant AnsweredAt(Instant raised)
    {
        if (Overslept is { } night && night.Contains(raised))
        {
            return night.End;
        }
        var hour = raised.InZone(Zone).Hour;
        return raised + Duration.FromMinutes(hour is >= 7 and < 23 ? 4 : 8);
    }
}
