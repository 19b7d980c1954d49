using CsCheck;
using Incubation.Core.Development;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Development;

public sealed class HatchForecastTests
{
    private static readonly DevelopmentProfile Ball = DevelopmentProfiles.Find("python-regius")!;
    private static readonly Instant Laid = Histories.Start;

    private static Instant Day(double day) => Laid + Duration.FromDays(day);

    private static Trace Steady(double until, double celsius) => Trace.Constant(Laid, Day(until), celsius);

    private static HatchForecast Of(Trace history, double now) => HatchForecast.Of(new(Ball, Laid, 0, history, Day(now)));

    [Fact]
    public void Of_a_clutch_at_its_anchor_pips_on_the_anchors_day()
    {
        HatchForecast forecast = Of(Steady(30, 31.5), 30);

        Assert.Equal(60, (forecast.Central!.Value - Laid).TotalDays, 1e-6);
        Assert.Equal(60, (forecast.P50!.Value - Laid).TotalDays, 0.5);
        Assert.Equal(0.5, forecast.Stage, 1e-9);
        Assert.Equal(30 * 14.5, forecast.DegreeDays, 1e-9);
        Assert.Equal(0, forecast.DegreeDaysAssumed, 1e-9);
        Assert.Equal(AssumptionBasis.RecentMean, forecast.Ahead.Basis);
    }

    [Fact]
    public void Of_any_constant_temperature_has_K_over_T_less_T0_in_the_middle() =>
        Gen.Double[26, 34].Sample(celsius =>
        {
            HatchForecast forecast = Of(Steady(10, celsius), 10);
            Assert.Equal(Ball.Constant / (celsius - Ball.Zero), (forecast.Central!.Value - Laid).TotalDays, 1e-6);
        });

    [Fact]
    public void Of_warmer_readings_never_pips_later() =>
        Gen.Select(Histories.Readings, Gen.Double[0, 4], Gen.Int[0, 3]).Sample((readings, warmer, extra) =>
        {
            Instant now = readings[^1].At + Duration.FromDays(extra);
            HatchForecast Made(double add) => HatchForecast.Of(new(
                Ball, Laid, 0, Trace.FromReadings(readings.Select(r => r with { Value = r.Value + 8 + add }), Histories.Bridge), now));
            HatchForecast base_ = Made(0), warm = Made(warmer);
            Assert.True(NotLater(warm.P10, base_.P10) && NotLater(warm.P50, base_.P50) && NotLater(warm.P90, base_.P90));
            Assert.True(warm.Stage >= base_.Stage - 1e-12);
        }, iter: 60);

    private static bool NotLater(Instant? warm, Instant? cool) => cool is null || (warm is { } at && at <= cool + Duration.FromSeconds(2));

    [Fact]
    public void Of_readings_in_any_order_of_arrival_is_the_same() =>
        Histories.Readings.SelectMany(readings => Gen.Shuffle(readings.ToArray()).Select(mixed => (readings, mixed))).Sample(pair =>
        {
            HatchForecast Made(TracePoint[] arrived) =>
                HatchForecast.Of(new(Ball, Laid, 0, Trace.FromReadings(arrived, Histories.Bridge), pair.readings[^1].At));
            HatchForecast one = Made(pair.readings), two = Made(pair.mixed);
            Assert.Equal((one.P10, one.P50, one.P90, one.Stage), (two.P10, two.P50, two.P90, two.Stage));
        }, iter: 40);

    [Fact]
    public void Of_a_clutch_entered_on_day_30_with_no_readings_says_what_it_assumed_and_is_wider()
    {
        HatchForecast late = HatchForecast.Of(new(Ball, Laid, 0, Trace.Empty, Day(30)) { KeeperCelsius = 31.5, BandMiddleCelsius = 31.5 });
        HatchForecast watched = Of(Steady(30, 31.5), 30);

        Assert.Equal(new Assumption(31.5, AssumptionBasis.Keeper), late.Early);
        Assert.Equal(AssumptionBasis.BandMiddle, late.Ahead.Basis);
        Assert.Equal(30, late.Unknown.TotalDays, 1e-9);
        Assert.Equal(watched.Stage, late.Stage, 1e-9);
        Assert.Equal(late.DegreeDays, late.DegreeDaysAssumed, 1e-9);
        Assert.True(late.P90 - late.P10 > watched.P90 - watched.P10);
        Assert.Contains("as the keeper believes", string.Join(' ', ForecastWords.Assumed(late, TemperatureScale.Celsius)), StringComparison.Ordinal);
        Assert.Contains("30 days are without readings", string.Join(' ', ForecastWords.Assumed(late, TemperatureScale.Celsius)), StringComparison.Ordinal);
    }

    [Fact]
    public void Of_a_clutch_about_which_nothing_is_known_takes_the_usual_temperature_and_says_so()
    {
        HatchForecast forecast = Of(Trace.Empty, 5);

        Assert.Equal(new Assumption(Ball.AnchorCelsius, AssumptionBasis.Profile), forecast.Ahead);
        Assert.Contains("the usual temperature for the species", string.Join(' ', ForecastWords.Assumed(forecast, TemperatureScale.Celsius)),
            StringComparison.Ordinal);
    }

    [Fact]
    public void Of_a_record_with_a_hole_fills_it_with_the_mean_and_lists_it()
    {
        HatchForecast forecast = Of(Trace.Of(Steady(10, 32).Pieces.Concat(Trace.Constant(Day(12), Day(20), 32).Pieces)), 20);

        Assert.Equal([new Interval(Day(10), Day(12))], forecast.Gaps);
        Assert.Null(forecast.Early);
        Assert.Equal(32, forecast.Later!.Value.Celsius, 1e-9);
        Assert.Equal(2 * 15, forecast.DegreeDaysAssumed, 1e-9);
        Assert.Equal(forecast.Stage, Of(Steady(20, 32), 20).Stage, 1e-9);
    }

    [Fact]
    public void Of_more_doubt_is_wider_each_for_itself()
    {
        ForecastInput plain = new(Ball, Laid, 0, Steady(20, 32), Day(20));
        double Width(ForecastInput input)
        {
            HatchForecast forecast = HatchForecast.Of(input);
            return (forecast.P90!.Value - forecast.P10!.Value).TotalDays;
        }

        double width = Width(plain);
        Assert.True(Width(plain with { ProbeBiasSd = 1 }) > width);
        Assert.True(Width(plain with { LaySlackDays = 4 }) > width);
        Assert.True(Width(plain with { Profile = Ball with { AnchorDaysSd = 6 } }) > width);
        Assert.True(Width(plain with { Profile = Ball with { WithinClutchSdDays = 4 } }) > width);
        Assert.True(Width(plain with { History = Steady(20, 27), BandMiddleCelsius = 27, Profile = Ball with { ZeroSd = 3 } })
            > Width(plain with { History = Steady(20, 27), BandMiddleCelsius = 27, Profile = Ball with { ZeroSd = 0 } }));
    }

    [Fact]
    public void Of_a_bias_of_one_degree_moves_the_date_as_the_line_does()
    {
        // 58 d at 31.5 °C, T0 17: a probe 1 °C off is 58 − 841/15.5 = 3.7 d over a whole incubation.
        DevelopmentProfile exact = Ball with { AnchorDays = 58, AnchorDaysSd = 0.001, ZeroSd = 0, WithinClutchSdDays = 0.01 };
        HatchForecast Biased(double sd) => HatchForecast.Of(new(exact, Laid, 0, Steady(58, 31.5), Day(58)) { ProbeBiasSd = sd, AheadSd = 0 });

        double spread = (Biased(1).P90!.Value - Biased(1).P10!.Value).TotalDays;
        Assert.InRange(spread, 6, 14);
        Assert.True((Biased(0).P90!.Value - Biased(0).P10!.Value).TotalDays < 1.3);
    }

    [Fact]
    public void Spread_is_a_distribution_whose_density_adds_up()
    {
        HatchForecast forecast = Of(Steady(20, 32), 20);

        Assert.Equal(0.1, forecast.Spread.PippedBy(forecast.P10!.Value), 1e-4);
        Assert.Equal(0.9, forecast.Spread.PippedBy(forecast.P90!.Value), 1e-4);
        Assert.Equal(1, Enumerable.Range(0, 2500).Sum(tenth => forecast.Spread.Density(Day(tenth / 10.0)) * 0.1), 0.01);
    }

    [Fact]
    public void Window_of_eggs_too_cold_to_develop_says_so_in_the_keepers_scale()
    {
        HatchForecast forecast = Of(Steady(10, 14), 10);

        Assert.Null(forecast.P50);
        Assert.Contains("57.2 °F", ForecastWords.Window(forecast, Day(10), DateTimeZone.Utc, TemperatureScale.Fahrenheit), StringComparison.Ordinal);
    }

    [Fact]
    public void Window_that_has_passed_says_so() =>
        Assert.Contains("has passed", ForecastWords.Window(Of(Steady(100, 31.5), 100), Day(100), DateTimeZone.Utc, TemperatureScale.Celsius),
            StringComparison.Ordinal);

    [Fact]
    public void Assumed_always_says_whether_the_profile_is_published()
    {
        Assert.Contains("common practice", string.Join(' ', ForecastWords.Assumed(Of(Steady(5, 31), 5), TemperatureScale.Celsius)), StringComparison.Ordinal);
        HatchForecast ratsnake = HatchForecast.Of(new(DevelopmentProfiles.Find("elaphe-carinata")!, Laid, 0, Steady(5, 28), Day(5)));
        Assert.Contains("Ji & Du 2001", string.Join(' ', ForecastWords.Assumed(ratsnake, TemperatureScale.Celsius)), StringComparison.Ordinal);
    }

    [Fact]
    public void Of_a_season_at_one_reading_in_twenty_seconds_stays_quick_enough_to_test_here()
    {
        Trace season = Trace.FromReadings(
            Enumerable.Range(0, 60 * 4320).Select(i => new TracePoint(Laid + Duration.FromSeconds(20 * i), 31.5 + Math.Sin(i / 500.0))),
            Duration.FromMinutes(10));

        Assert.InRange(Of(season, 60).Stage, 0.98, 1);
    }
}
