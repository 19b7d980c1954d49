using NodaTime;

namespace Incubation.Service.Demo;

/// <summary>The demo's days, counted back from today in the facility's zone.</summary>
/// <param name="Now">Now.</param>
/// <param name="Zone">The facility's zone.</param>
internal sealed record DemoCalendar(Instant Now, DateTimeZone Zone)
{
    public LocalDate Today => Now.InZone(Zone).Date;

    /// <summary>So many days ago.</summary>
    public LocalDate Day(int daysAgo) => Today.PlusDays(-daysAgo);

    /// <summary>An hour of a day, by the clock on the wall.</summary>
    public Instant At(LocalDate day, double hour) => Zone.AtStartOfDay(day).ToInstant() + Duration.FromHours(hour);

    /// <summary>An hour of a day so many days ago.</summary>
    public Instant At(int daysAgo, double hour) => At(Day(daysAgo), hour);
}
