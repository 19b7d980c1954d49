using NodaTime;

namespace Incubation.Core.Clutches;

/// <summary>
/// Age in days as keepers count it: by calendar dates in the facility's zone, so a day of 23 or 25 hours is one day and the
/// number turns at local midnight. Day 0 is the lay date.
/// </summary>
public static class ClutchDay
{
    /// <summary>Day number at an instant; negative before the lay date.</summary>
    public static int At(LocalDate laid, Instant now, DateTimeZone zone)
    {
        ArgumentNullException.ThrowIfNull(zone);
        return Period.DaysBetween(laid, now.InZone(zone).Date);
    }

    /// <summary>First instant of day <paramref name="day"/>: local midnight, or the first instant after it where midnight was skipped.</summary>
    public static Instant Start(LocalDate laid, int day, DateTimeZone zone)
    {
        ArgumentNullException.ThrowIfNull(zone);
        return zone.AtStartOfDay(laid.PlusDays(day)).ToInstant();
    }

    /// <summary>
    /// The instant sums begin at: the middle of the lay date, since only the date is known (at most half a day wrong, which the
    /// forecast carries as spread).
    /// </summary>
    public static Instant AssumedLaying(LocalDate laid, DateTimeZone zone)
    {
        Instant start = Start(laid, 0, zone);
        return start + ((Start(laid, 1, zone) - start) / 2);
    }
}
