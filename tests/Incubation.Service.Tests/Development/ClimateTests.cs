using Incubation.Service.Clutches;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Development;

public sealed class ClimateTests
{
    private static readonly LocalDate LayDate = new(2026, 3, 1);
    private static readonly Instant Noon = Instant.FromUtc(2026, 3, 1, 12, 0);

    [Fact]
    public async Task Degree_days_follow_the_clutch_from_one_incubator_to_another()
    {
        Instant move = Noon + Duration.FromDays(10), now = Noon + Duration.FromDays(20);
        await using EggRoom room = await EggRoom.StartAsync(now);
        await room.IncubatorAsync("hazel");
        await room.IncubatorAsync("rowan");
        await room.TubAsync("tub-1", ("hazel", Noon), ("rowan", move));
        await room.ClutchAsync("c-01", LayDate, "tub-1");
        await room.ProbeAsync("hazel-air", "hazel", "air", Noon - Duration.FromDays(1));
        await room.ProbeAsync("rowan-air", "rowan", "air", Noon - Duration.FromDays(1));
        await room.ReadAsync("hazel-air", EggRoom.Every(5, Noon, now, 31));
        await room.ReadAsync("rowan-air", EggRoom.Every(5, Noon, now, 32.5));

        ForecastView forecast = await room.ForecastAsync("c-01");

        // By hand: 10 days at 31 − 17 and 10 days at 32.5 − 17.
        Assert.Equal((10 * 14) + (10 * 15.5), forecast.DegreeDays!.Value, 1e-6);
        Assert.Empty(forecast.Gaps);
        Assert.Contains("32.5 °C (the mean of the last three days)", forecast.AssumedAhead, StringComparison.Ordinal);
        Assert.Equal("common practice", forecast.Evidence);
    }

    [Fact]
    public async Task Degree_days_of_a_swinging_temperature_equal_the_sum_of_its_trapezoids()
    {
        Instant now = Noon + Duration.FromDays(12);
        await using EggRoom room = await EggRoom.StartAsync(now);
        await room.IncubatorAsync("hazel");
        await room.TubAsync("tub-1", ("hazel", Noon));
        await room.ClutchAsync("c-01", LayDate, "tub-1");
        await room.ProbeAsync("hazel-air", "hazel", "air", Noon - Duration.FromDays(1));
        (Instant At, double Celsius)[] values = [.. EggRoom.Every(
            5, Noon, now, at => 31 + (1.5 * Math.Sin((at - Noon).TotalHours / 3)))];
        await room.ReadAsync("hazel-air", values);

        ForecastView forecast = await room.ForecastAsync("c-01");

        // The last value is held for the five minutes up to now.
        double byHand = values.Zip(values.Skip(1).Append(values[^1]), (a, b) => ((a.Celsius + b.Celsius) / 2) - 17).Sum() * 5 / 60 / 24;
        Assert.Equal(byHand, forecast.DegreeDays!.Value, 1e-6);
    }

    [Fact]
    public async Task A_probe_that_sends_many_times_a_minute_gives_the_same_sum_within_its_noise()
    {
        Instant now = Noon + Duration.FromDays(2);
        await using EggRoom room = await EggRoom.StartAsync(now);
        await room.IncubatorAsync("hazel");
        await room.TubAsync("tub-1", ("hazel", Noon));
        await room.ClutchAsync("c-01", LayDate, "tub-1");
        await room.ProbeAsync("hazel-air", "hazel", "air", Noon - Duration.FromDays(1));
        await room.ReadAsync("hazel-air", EggRoom.Every(0.25, Noon, now, at => 31 + ((at - Noon).TotalHours / 48)));

        ForecastView forecast = await room.ForecastAsync("c-01");

        // By hand: from 14 to 15 above zero in a straight line over two days.
        Assert.Equal(2 * 14.5, forecast.DegreeDays!.Value, 0.01);
        Assert.Empty(forecast.Gaps);
    }

    [Fact]
    public async Task A_gap_is_told_to_the_minute_and_is_not_bridged()
    {
        Instant now = Noon + Duration.FromDays(5), from = Noon + Duration.FromDays(2), until = from + Duration.FromHours(6);
        await using EggRoom room = await EggRoom.StartAsync(now);
        await room.IncubatorAsync("hazel");
        await room.TubAsync("tub-1", ("hazel", Noon));
        await room.ClutchAsync("c-01", LayDate, "tub-1");
        await room.ProbeAsync("hazel-air", "hazel", "air", Noon - Duration.FromDays(1));
        await room.ReadAsync("hazel-air", EggRoom.Every(5, Noon, from + Duration.FromMinutes(1), 31));
        await room.ReadAsync("hazel-air", EggRoom.Every(5, until, now, 31));

        ForecastView forecast = await room.ForecastAsync("c-01");

        GapView gap = Assert.Single(forecast.Gaps);
        Assert.Equal((from, until, 6.0), (gap.From, gap.To, gap.Hours));
        Assert.Contains("In all 6 hours are without readings", forecast.AssumedAhead, StringComparison.Ordinal);
        // The gap counts at what the clutch had otherwise, and says so.
        Assert.Equal(5 * 14, forecast.DegreeDays!.Value, 1e-6);
    }

    [Fact]
    public async Task A_late_reading_that_fills_a_gap_changes_what_was_looked_up_before()
    {
        Instant now = Noon + Duration.FromDays(5), from = Noon + Duration.FromDays(2), until = from + Duration.FromHours(6);
        await using EggRoom room = await EggRoom.StartAsync(now);
        await room.IncubatorAsync("hazel");
        await room.TubAsync("tub-1", ("hazel", Noon));
        await room.ClutchAsync("c-01", LayDate, "tub-1");
        await room.ProbeAsync("hazel-air", "hazel", "air", Noon - Duration.FromDays(1));
        await room.ReadAsync("hazel-air", EggRoom.Every(5, Noon, from + Duration.FromMinutes(1), 31));
        await room.ReadAsync("hazel-air", EggRoom.Every(5, until, now, 31));
        Assert.Single((await room.ForecastAsync("c-01")).Gaps);

        await room.ReadAsync("hazel-air", EggRoom.Every(5, from, until, 33));

        ForecastView forecast = await room.ForecastAsync("c-01");
        Assert.Empty(forecast.Gaps);
        // Two hundredths: the half-way lines at both ends of the warm stretch.
        Assert.Equal((4.75 * 14) + (0.25 * 16), forecast.DegreeDays!.Value, 0.02);
    }

    [Fact]
    public async Task Readings_in_any_order_of_arrival_give_the_same_forecast()
    {
        Instant now = Noon + Duration.FromDays(6);
        (Instant At, double Celsius)[] values = [.. EggRoom.Every(7, Noon, now, at => 31 + Math.Sin((at - Noon).TotalHours))];
        ForecastView inOrder = await OfAsync(values), backwards = await OfAsync([.. values.Reverse()]);

        Assert.Equal((inOrder.DegreeDays, inOrder.P10, inOrder.P50, inOrder.P90), (backwards.DegreeDays, backwards.P10, backwards.P50, backwards.P90));

        async Task<ForecastView> OfAsync((Instant, double)[] readings)
        {
            await using EggRoom room = await EggRoom.StartAsync(now);
            await room.IncubatorAsync("hazel");
            await room.TubAsync("tub-1", ("hazel", Noon));
            await room.ClutchAsync("c-01", LayDate, "tub-1");
            await room.ProbeAsync("hazel-air", "hazel", "air", Noon - Duration.FromDays(1));
            foreach ((Instant, double)[] part in readings.Chunk(200))
            {
                await room.ReadAsync("hazel-air", part);
                _ = await room.ForecastAsync("c-01");
            }

            return await room.ForecastAsync("c-01");
        }
    }

    [Fact]
    public async Task A_clutch_entered_late_without_readings_is_forecast_on_what_is_assumed_and_says_so()
    {
        Instant now = Noon + Duration.FromDays(30);
        await using EggRoom room = await EggRoom.StartAsync(now);
        await room.ClutchAsync("c-01", LayDate, tub: null);

        PageForecast page = await room.PageAsync("c-01");

        ForecastView forecast = page.Forecast!;
        Assert.Equal(720, Assert.Single(forecast.Gaps).Hours);
        Assert.Contains("31.5 °C (the usual temperature for the species)", forecast.AssumedAhead, StringComparison.Ordinal);
        Assert.Contains("no probe speaks for it", page.Words, StringComparison.Ordinal);
        Assert.InRange(forecast.Stage, 0.45, 0.55);
        Assert.True(forecast.P10 < forecast.P50 && forecast.P50 < forecast.P90);
        // Wide: nothing is measured, so a month's temperature is a guess.
        Assert.InRange((forecast.P90!.Value - forecast.P10!.Value).TotalDays, 8, 25);
    }

    [Fact]
    public async Task The_probe_between_the_eggs_speaks_before_the_air_and_the_air_where_it_is_silent()
    {
        Instant silent = Noon + Duration.FromDays(4), now = Noon + Duration.FromDays(6);
        await using EggRoom room = await EggRoom.StartAsync(now);
        await room.IncubatorAsync("hazel");
        await room.TubAsync("tub-1", ("hazel", Noon));
        await room.TubAsync("tub-2", ("hazel", Noon));
        await room.ClutchAsync("c-01", LayDate, "tub-1");
        await room.ClutchAsync("c-02", LayDate, "tub-2");
        await room.ProbeAsync("hazel-air", "hazel", "air, middle", Noon - Duration.FromDays(1));
        await room.ProbeAsync("hazel-eggs", "hazel", "Tub 1, between eggs", Noon - Duration.FromDays(1));
        await room.ReadAsync("hazel-air", EggRoom.Every(5, Noon, now, 30));
        await room.ReadAsync("hazel-eggs", EggRoom.Every(5, Noon, silent + Duration.FromMinutes(1), 32));

        PageForecast own = await room.PageAsync("c-01"), neighbour = await room.PageAsync("c-02");

        Assert.Equal((4 * 15) + (2 * 13), own.Forecast!.DegreeDays!.Value, 1e-6);
        Assert.Contains("hazel-eggs speaks for it, in its tub.", own.Words, StringComparison.Ordinal);
        // A probe in another tub never speaks for a clutch.
        Assert.Equal(6 * 13, neighbour.Forecast!.DegreeDays!.Value, 1e-6);
        Assert.Contains("not in its tub: the eggs may be up to 2 °C", neighbour.Words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_probes_in_the_air_count_as_their_mean()
    {
        Instant now = Noon + Duration.FromDays(3);
        await using EggRoom room = await EggRoom.StartAsync(now);
        await room.IncubatorAsync("hazel");
        await room.TubAsync("tub-1", ("hazel", Noon));
        await room.ClutchAsync("c-01", LayDate, "tub-1");
        await room.ProbeAsync("upper", "hazel", "air, upper shelf", Noon - Duration.FromDays(1));
        await room.ProbeAsync("lower", "hazel", "air, lower shelf", Noon - Duration.FromDays(1));
        await room.ReadAsync("upper", EggRoom.Every(5, Noon, now, 32));
        await room.ReadAsync("lower", EggRoom.Every(5, Noon + Duration.FromMinutes(2), now, 30));

        ForecastView forecast = await room.ForecastAsync("c-01");

        // The lower one is two minutes late at the start, where the upper speaks alone.
        Assert.Equal(3 * 14, forecast.DegreeDays!.Value, 0.01);
        Assert.Empty(forecast.Gaps);
    }

    [Fact]
    public async Task A_corrected_placement_changes_the_forecast_at_once()
    {
        Instant now = Noon + Duration.FromDays(8);
        await using EggRoom room = await EggRoom.StartAsync(now);
        await room.IncubatorAsync("hazel");
        await room.IncubatorAsync("rowan");
        await room.TubAsync("tub-1", ("hazel", Noon));
        await room.ClutchAsync("c-01", LayDate, "tub-1");
        await room.ProbeAsync("probe-1", "rowan", "air", Noon - Duration.FromDays(1));
        await room.ReadAsync("probe-1", EggRoom.Every(5, Noon, now, 31));
        Assert.Equal(192, Assert.Single((await room.ForecastAsync("c-01")).Gaps).Hours);

        // It was in Hazel all along from the second day on.
        await room.ProbeAsync("probe-1", "hazel", "air", Noon + Duration.FromDays(1));

        Assert.Equal(24, Assert.Single((await room.ForecastAsync("c-01")).Gaps).Hours);
    }

    [Fact]
    public async Task A_warmer_clutch_pips_earlier_and_the_list_and_the_page_agree()
    {
        Instant now = Noon + Duration.FromDays(25);
        await using EggRoom room = await EggRoom.StartAsync(now);
        foreach ((string key, double celsius) in new[] { ("cool", 30.0), ("warm", 32.0) })
        {
            await room.IncubatorAsync(key);
            await room.TubAsync($"tub-{key}", (key, Noon));
            await room.ClutchAsync(key, LayDate, $"tub-{key}");
            await room.ProbeAsync($"{key}-air", key, "air", Noon - Duration.FromDays(1));
            await room.ReadAsync($"{key}-air", EggRoom.Every(10, Noon, now, celsius));
        }

        ForecastView cool = await room.ForecastAsync("cool"), warm = await room.ForecastAsync("warm");
        LineForecast? line = await ((IClutchForecast)room.Services.GetService(typeof(IClutchForecast))!)
            .LineAsync(room.Clutch("warm"), TestContext.Current.CancellationToken);

        Assert.True(warm.P50 < cool.P50 && warm.Stage > cool.Stage);
        Assert.Equal((warm.Stage, warm.P10, warm.P50, warm.P90), (line!.Stage!.Value, line.Pip!.From, line.Pip.Likely, line.Pip.To));
        // At constant temperature K / (T − T0) is the middle: 60 d × 14.5 over 15 and over 13 degrees.
        Assert.Equal(60 * 14.5 / 15, (warm.P50!.Value - Noon).TotalDays, 0.7);
        Assert.Equal(60 * 14.5 / 13, (cool.P50!.Value - Noon).TotalDays, 0.7);
    }

    [Fact]
    public async Task A_species_without_a_profile_gets_words_instead_of_a_forecast()
    {
        await using EggRoom room = await EggRoom.StartAsync(Noon + Duration.FromDays(3));
        await room.ClutchAsync("c-01", LayDate, null, species: "unheard-of");

        PageForecast page = await room.PageAsync("c-01");

        Assert.Null(page.Forecast);
        Assert.Contains("no pip can be forecast", page.Words, StringComparison.Ordinal);
    }
}
