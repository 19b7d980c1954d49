using Incubation.Core.Clutches;
using Incubation.Service.Hosting;
using Microsoft.Extensions.Options;
using NodaTime;
using NodaTime.Text;

namespace Incubation.Service.Clutches;

/// <summary>Days of clutches by the calendar of the facility's zone.</summary>
internal sealed class ClutchCalendar(ServiceClock clock, IOptions<IncubationOptions> options)
{
    private static readonly LocalDateTimePattern ToTheMinute = LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd HH:mm");
    private static readonly LocalDatePattern DayAndMonth = LocalDatePattern.CreateWithInvariantCulture("d MMMM");

    public DateTimeZone Zone { get; } = DateTimeZoneProviders.Tzdb.GetZoneOrNull(options.Value.Facility.Zone) ?? DateTimeZone.Utc;

    /// <summary>Now, in whole milliseconds as the records keep it.</summary>
    public Instant Now => Instant.FromUnixTimeMilliseconds(clock.Wall.ToUnixTimeMilliseconds());

    public LocalDate Today => clock.Wall.InZone(Zone).Date;

    /// <summary>Day number of a clutch at an instant; a finished one stopped counting.</summary>
    public int Day(BookedClutch clutch, Instant at)
        => ClutchDay.At(clutch.Clutch.Laid.Date, clutch.FinishedAt is { } end && end < at ? end : at, Zone);

    /// <summary>First instant it can have been laid: the lay date with its slack taken off.</summary>
    public Instant LaidFrom(LayDate laid) => ClutchDay.Start(laid.Date, -laid.SlackDays, Zone);

    /// <summary>"2026-11-25 04:05", by the clock on the wall there.</summary>
    public string Spoken(Instant at) => ToTheMinute.Format(at.InZone(Zone).LocalDateTime);

    /// <summary>"25 November".</summary>
    public string SpokenDay(Instant at) => DayAndMonth.Format(at.InZone(Zone).Date);
}
