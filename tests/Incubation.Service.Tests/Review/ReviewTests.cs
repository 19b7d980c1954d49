using System.Net;
using System.Text.Json;
using Incubation.Service.Tests.Development;
using Incubation.Storage.Records;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Review;

public sealed class ReviewTests
{
    private static readonly LocalDate LayDate = new(2026, 3, 1);
    private static readonly Instant Noon = Instant.FromUtc(2026, 3, 1, 12, 0);
    private static readonly Instant Ten = Instant.FromUtc(2026, 3, 11, 10, 0);
    private static readonly Instant Now = Noon + Duration.FromDays(20);

    [Theory]
    [InlineData(5)]
    [InlineData(1)]
    public async Task A_planted_excursion_is_found_with_its_exact_figures(double minutes)
    {
        await using EggRoom room = await RoomAsync(minutes);

        JsonElement review = await room.GetAsync("/api/clutches/c-01/review");

        JsonElement stretch = Assert.Single(review.GetProperty("stretches").EnumerateArray());
        // 31.5 → 35.5 in an hour passes 32.5 after a quarter of it; the same on the way back.
        Assert.Equal(("above", "2026-03-11T10:15:00Z", "2026-03-11T13:45:00Z"), (Text(stretch, "side"), Text(stretch, "from"), Text(stretch, "to")));
        Assert.Equal(35.5, stretch.GetProperty("peak").GetDouble());
        // Two hours 3 °C above, and two triangles of 3 °C × 45 minutes.
        Assert.Equal((2 * 3) + (2 * 3 * 0.75 / 2), stretch.GetProperty("degreeHoursAbove").GetDouble(), 1e-3);
        Assert.Equal(0, stretch.GetProperty("degreeHoursBelow").GetDouble());
        double from = stretch.GetProperty("stageFrom").GetDouble(), to = stretch.GetProperty("stageTo").GetDouble();
        Assert.InRange(from, 9.9 / 62, 9.9 / 58);
        Assert.InRange(to - from, 3.5 / 24 / 62, 3.5 / 24 / 45);
        Assert.Equal(8.25, review.GetProperty("exposure").GetProperty("degreeHoursAbove").GetDouble(), 1e-3);
        Assert.Equal(3.5, review.GetProperty("exposure").GetProperty("hoursAbove").GetDouble(), 1e-2);
    }

    [Fact]
    public async Task A_stretch_says_which_probes_say_so_who_was_told_and_what_the_care_log_has_near_it()
    {
        await using EggRoom room = await RoomAsync(5);
        await room.IncubatorAsync("rowan");
        await room.ProbeAsync("hazel-lid", "hazel", "air, under the lid", Noon);
        await room.ReadAsync("hazel-lid", EggRoom.Every(5, Noon, Now, 31.6));
        Guid warning = Guid.NewGuid(), elsewhere = Guid.NewGuid(), low = Guid.NewGuid();
        await room.SeedAsync(records =>
        {
            records.AlarmJournal.AddRange(
                Line(warning, "hazel", "high", "raised", Ten + Duration.FromMinutes(20), null, "hazel is above 32.5 °C."),
                Line(warning, "hazel", "high", "called", Ten + Duration.FromMinutes(21), "Ada", "Ada was called by mail."),
                Line(warning, "hazel", "high", "answered", Ten + Duration.FromMinutes(26), "Ada", "Ada is on it."),
                Line(warning, "hazel", "high", "returned", Ten + Duration.FromMinutes(230), null, "hazel is back in its band."),
                Line(elsewhere, "rowan", "high", "raised", Ten + Duration.FromMinutes(20), null, "rowan is above 32.5 °C."),
                Line(low, "hazel", "low", "raised", Ten + Duration.FromMinutes(20), null, "hazel is below 30.5 °C."));
            records.Care.AddRange(
                Care("tub", "tub-1", "lid", Ten - Duration.FromMinutes(10)),
                Care("incubator", "hazel", "fan", Ten + Duration.FromHours(2)),
                Care("incubator", "rowan", "fan", Ten),
                Care("tub", "tub-1", "water", Ten - Duration.FromDays(2)));
        });

        JsonElement stretch = Assert.Single((await room.GetAsync("/api/clutches/c-01/review")).GetProperty("stretches").EnumerateArray());

        Assert.Equal(["hazel-eggs", "hazel-lid"], stretch.GetProperty("probes").EnumerateArray().Select(p => Text(p, "probe")));
        string?[] says = [.. stretch.GetProperty("probes").EnumerateArray().Select(p => Text(p, "says"))];
        Assert.StartsWith("says so: above the band, as far as 35.5 °C", says[0], StringComparison.Ordinal);
        Assert.Equal("does not say so: never above 31.6 °C", says[1]);
        JsonElement alarm = Assert.Single(stretch.GetProperty("alarms").EnumerateArray());
        Assert.Equal((warning, "Ada", "2026-03-11T10:26:00Z"), (alarm.GetProperty("occurrence").GetGuid(), Text(alarm, "answeredBy"), Text(alarm, "answeredAt")));
        Assert.Contains("Ada was on it after 6 minutes.", Text(alarm, "words"), StringComparison.Ordinal);
        Assert.Equal(["lid", "fan"], stretch.GetProperty("care").EnumerateArray().Select(c => Text(c, "kind")));
        string words = Text(stretch, "words")!;
        Assert.Contains("Not every probe says so.", words, StringComparison.Ordinal);
        Assert.Contains("Its beginning is consistent with the care log: 11 Mar 09:50 lid", words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_stretch_without_an_alarm_says_that_none_is_on_record()
    {
        await using EggRoom room = await RoomAsync(5);

        JsonElement stretch = Assert.Single((await room.GetAsync("/api/clutches/c-01/review")).GetProperty("stretches").EnumerateArray());

        Assert.Empty(stretch.GetProperty("alarms").EnumerateArray());
        Assert.Contains("No alarm of it is on record.", Text(stretch, "words"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_gap_in_the_record_is_told_with_the_alarm_that_was_raised_of_it()
    {
        await using EggRoom room = await EggRoom.StartAsync(Now);
        await room.IncubatorAsync("hazel");
        await room.TubAsync("tub-1", ("hazel", Noon));
        await room.ClutchAsync("c-01", LayDate, "tub-1");
        await room.ProbeAsync("hazel-eggs", "hazel", "tub 1", Noon);
        await room.ReadAsync("hazel-eggs", EggRoom.Every(5, Noon, Ten, 31.5));
        await room.ReadAsync("hazel-eggs", EggRoom.Every(5, Ten + Duration.FromHours(3), Now, 31.5));
        Guid silent = Guid.NewGuid();
        await room.SeedAsync(records => records.AlarmJournal.Add(
            Line(silent, "hazel", "no reading", "raised", Ten + Duration.FromMinutes(10), null, "hazel-eggs is silent.")));

        JsonElement review = await room.GetAsync("/api/clutches/c-01/review");

        JsonElement gap = Assert.Single(review.GetProperty("gaps").EnumerateArray());
        // From the last reading at 9:55 to the first at 13:00.
        Assert.Equal(("2026-03-11T09:55:00Z", "2026-03-11T13:00:00Z"), (Text(gap, "from"), Text(gap, "to")));
        JsonElement alarm = Assert.Single(gap.GetProperty("alarms").EnumerateArray());
        Assert.Contains("Nobody answered it.", Text(alarm, "words"), StringComparison.Ordinal);
        Assert.Empty(review.GetProperty("stretches").EnumerateArray());
        Assert.Contains("are without readings", Text(review, "sentence"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_bad_hatch_beside_a_good_one_is_compared_line_by_line_and_blames_nothing()
    {
        await using EggRoom room = await RoomAsync(5);
        await room.IncubatorAsync("rowan");
        await room.TubAsync("tub-2", ("rowan", Noon));
        await room.ClutchAsync("c-02", LayDate, "tub-2", eggs: 6, finishedAt: Now);
        await room.ProbeAsync("rowan-air", "rowan", "air", Noon);
        await room.ReadAsync("rowan-air", EggRoom.Every(5, Noon, Now, 31.5));
        await room.EggsAsync("c-02", (_, egg) => [Outcome(egg, "out", Now - Duration.FromHours(1))]);
        await room.EggsAsync("c-01", (number, egg) => [Outcome(egg, number <= 2 ? "out" : "dead in egg", Now - Duration.FromHours(2))]);

        JsonElement review = await room.GetAsync("/api/clutches/c-01/review?against=c-02");

        Assert.Equal((2, 6), (review.GetProperty("outcomes").GetProperty("hatched").GetInt32(), review.GetProperty("outcomes").GetProperty("dead").GetInt32()));
        JsonElement[] lines = [.. review.GetProperty("comparison").EnumerateArray()];
        JsonElement above = lines.Single(line => Text(line, "what") == "degree-hours above, °C·h");
        Assert.Equal((8.25, 0.0, "more"), (above.GetProperty("this").GetDouble(), above.GetProperty("against").GetDouble(), Text(above, "words")));
        JsonElement hatched = lines.Single(line => Text(line, "what") == "hatched, share of eggs laid");
        Assert.Equal((0.25, 1.0, "fewer"), (hatched.GetProperty("this").GetDouble(), hatched.GetProperty("against").GetDouble(), Text(hatched, "words")));
        Assert.Contains("consistent with", Text(review, "sentence"), StringComparison.Ordinal);
        Assert.DoesNotContain("caused", review.GetRawText(), StringComparison.OrdinalIgnoreCase);
        Assert.Contains("only probes in the incubator's air spoke", Text(await room.GetAsync("/api/clutches/c-02/review"), "caveat"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Figures_stay_in_degrees_Celsius_and_only_sentences_change_scale()
    {
        await using EggRoom room = await RoomAsync(5);

        JsonElement stretch = Assert.Single((await room.GetAsync("/api/clutches/c-01/review?temperature=degF")).GetProperty("stretches").EnumerateArray());

        Assert.Equal(35.5, stretch.GetProperty("peak").GetDouble());
        // 35.5 °C; and 8.25 °C·h are 14.85 °F·h, with no 32 added.
        Assert.Contains("95.9 °F", Text(stretch, "words"), StringComparison.Ordinal);
        Assert.Matches("14[.][89] °F·h", Text(stretch, "words")!);
    }

    [Theory]
    [InlineData("/api/clutches/nobody/review", HttpStatusCode.NotFound)]
    [InlineData("/api/clutches/c-01/review?against=nobody", HttpStatusCode.BadRequest)]
    [InlineData("/api/clutches/c-01/review?against=c-01", HttpStatusCode.BadRequest)]
    [InlineData("/api/clutches/c-01/review?temperature=K", HttpStatusCode.BadRequest)]
    public async Task A_review_that_is_none_is_a_problem_document(string path, HttpStatusCode status)
    {
        await using EggRoom room = await EggRoom.StartAsync(Now);
        await room.ClutchAsync("c-01", LayDate, null);

        using HttpResponseMessage answer = await room.Http.GetAsync(path, TestContext.Current.CancellationToken);

        Assert.Equal(status, answer.StatusCode);
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
    }

    [Fact]
    public async Task A_clutch_that_lies_nowhere_is_one_gap_and_no_error()
    {
        await using EggRoom room = await EggRoom.StartAsync(Now);
        await room.ClutchAsync("c-01", LayDate, null);

        JsonElement review = await room.GetAsync("/api/clutches/c-01/review");

        Assert.Equal(480, Assert.Single(review.GetProperty("gaps").EnumerateArray()).GetProperty("hours").GetDouble());
        Assert.Empty(review.GetProperty("stretches").EnumerateArray());
    }

    // 31.5 °C throughout but for one morning: up to 35.5 within an hour, two hours there, and back within an hour.
    private static async Task<EggRoom> RoomAsync(double minutes)
    {
        EggRoom room = await EggRoom.StartAsync(Now);
        await room.IncubatorAsync("hazel");
        await room.TubAsync("tub-1", ("hazel", Noon));
        await room.ClutchAsync("c-01", LayDate, "tub-1");
        await room.ProbeAsync("hazel-eggs", "hazel", "tub 1, between eggs", Noon);
        await room.ReadAsync("hazel-eggs", EggRoom.Every(minutes, Noon, Now, at =>
        {
            double hours = (at - Ten).TotalHours;
            return 31.5 + (4 * Math.Max(0, Math.Min(1, Math.Min(hours, 4 - hours))));
        }));
        return room;
    }

    private static AlarmJournalRecord Line(Guid occurrence, string incubator, string condition, string what, Instant at, string? by, string words) => new()
    {
        Occurrence = occurrence,
        Incubator = incubator,
        Probe = "",
        Quantity = condition == "no reading" ? "" : "temperature",
        Condition = condition,
        Severity = "warning",
        Event = what,
        FromState = "normal",
        ToState = "unacknowledged",
        At = at,
        By = by,
        Words = words,
    };

    private static CareRecord Care(string on, string key, string kind, Instant at)
        => new() { Id = Guid.NewGuid(), On = on, Key = key, Kind = kind, At = at, By = "Ada", EnteredAt = at };

    private static OutcomeRecord Outcome(Guid egg, string kind, Instant at)
        => new() { Id = Guid.NewGuid(), Egg = egg, Kind = kind, At = at, By = "Ada", EnteredAt = at };

    private static string? Text(JsonElement element, string name) => element.GetProperty(name).GetString();
}
