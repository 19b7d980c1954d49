using Incubation.Core.Clutches;
using Incubation.Reference.Tests.Sources;
using NodaTime;
using NodaTime.Text;
using Xunit;

namespace Incubation.Reference.Tests.Clutches;

public sealed class DayCountTests
{
    private static DateTimeZone Zone(string id) => DateTimeZoneProviders.Tzdb[id];

    private static Instant At(string text) => InstantPattern.General.Parse(text).Value;

    private static LocalDate Date(string text) => LocalDatePattern.Iso.Parse(text).Value;

    [Theory]
    [Source("IANA", 2026, "Time zone database, release 2026f", "transitions of the zones named")]
    [InlineData("Europe/London", "2026-03-29", "2026-03-29T00:00:00Z", "2026-03-29T23:00:00Z")]
    [InlineData("Europe/London", "2026-10-25", "2026-10-24T23:00:00Z", "2026-10-26T00:00:00Z")]
    [InlineData("Australia/Lord_Howe", "2026-04-05", "2026-04-04T13:00:00Z", "2026-04-05T13:30:00Z")]
    [InlineData("Australia/Lord_Howe", "2026-10-04", "2026-10-03T13:30:00Z", "2026-10-04T13:00:00Z")]
    [InlineData("America/Sao_Paulo", "2018-11-04", "2018-11-04T03:00:00Z", "2018-11-05T02:00:00Z")]
    [InlineData("Antarctica/Troll", "2026-03-29", "2026-03-29T00:00:00Z", "2026-03-29T22:00:00Z")]
    public void A_day_of_any_length_is_one_day_from_its_first_instant_to_its_last(string zone, string date, string first, string next)
    {
        LocalDate laid = Date(date).PlusDays(-40);

        Assert.Equal(At(first), ClutchDay.Start(laid, 40, Zone(zone)));
        Assert.Equal(At(next), ClutchDay.Start(laid, 41, Zone(zone)));
        Assert.Equal(39, ClutchDay.At(laid, At(first) - Duration.Epsilon, Zone(zone)));
        Assert.Equal(40, ClutchDay.At(laid, At(first), Zone(zone)));
        Assert.Equal(40, ClutchDay.At(laid, At(next) - Duration.Epsilon, Zone(zone)));
        Assert.Equal(41, ClutchDay.At(laid, At(next), Zone(zone)));
    }

    [Theory]
    [Source("IANA", 2026, "Time zone database, release 2026f", "elapsed hours against calendar days across a transition")]
    [InlineData("Europe/London", "2026-03-28", "2026-03-29T17:00:00Z", 1)]
    [InlineData("Europe/London", "2026-10-24", "2026-10-25T18:00:00Z", 1)]
    [InlineData("Europe/London", "2026-03-01", "2026-04-29T11:00:00Z", 59)]
    [InlineData("Europe/Berlin", "2026-09-20", "2026-11-18T07:00:00Z", 59)]
    [InlineData("Australia/Lord_Howe", "2026-04-04", "2026-04-05T01:30:00Z", 1)]
    public void Day_number_counts_dates_and_not_hours(string zone, string laid, string now, int day) =>
        Assert.Equal(day, ClutchDay.At(Date(laid), At(now), Zone(zone)));
}
