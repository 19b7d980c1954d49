using System.Net;
using System.Text.Json;
using Xunit;

namespace Incubation.Service.Tests.Clutches;

public sealed class ClutchTests
{
    [Fact]
    public async Task A_clutch_is_entered_with_its_eggs_and_a_new_tub_and_is_on_its_page_the_list_and_the_first_screen()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        string hazel = await room.IncubatorAsync("Hazel");

        Answer entered = (await room.ClutchAsync(new
        {
            tub = new { name = "Tub 2", substrate = "vermiculite", substrateGrams = 400.0, waterGrams = 400.0, incubator = hazel, shelf = "upper" },
        })).Is(HttpStatusCode.Created);

        Assert.Equal(("c-01", "C-01", "hazel", "Hazel"), (entered.Text("key"), entered.Text("label"), entered.Text("incubator"), entered.Text("incubatorName")));
        Assert.True(entered.Body.GetProperty("watched").GetBoolean());
        Assert.Equal(0, entered.Body.GetProperty("day").GetInt32());
        Assert.Equal("incubating", entered.Text("state"));
        Assert.Empty(entered.Said);

        JsonElement page = await room.GetAsync("/api/clutches/c-01");
        Assert.Equal("C-01, day 0: none of its 6 eggs has been looked at yet.", page.GetProperty("sentence").GetString());
        Assert.Equal("Candle C-01 (day 0; there is time until day 1).", page.GetProperty("next").GetString());
        Assert.Equal([1, 2, 3, 4, 5, 6], page.GetProperty("eggs").EnumerateArray().Select(e => e.GetProperty("number").GetInt32()));
        JsonElement placement = Assert.Single(page.GetProperty("placements").EnumerateArray());
        Assert.Equal(("Tub 2", "Hazel", "upper", "2026-11-25T03:00:00Z"),
            (placement.GetProperty("tubName").GetString(), placement.GetProperty("incubatorName").GetString(), placement.GetProperty("shelf").GetString(), placement.GetProperty("from").GetString()));
        Assert.Equal(JsonValueKind.Null, placement.GetProperty("until").ValueKind);

        Assert.Equal("c-01", Assert.Single((await room.GetAsync("/api/clutches?state=incubating")).EnumerateArray()).GetProperty("key").GetString());
        Assert.Empty((await room.GetAsync("/api/clutches?state=finished")).EnumerateArray());
        JsonElement now = await room.GetAsync("/api/now");
        Assert.Equal("C-01", now.GetProperty("incubators")[0].GetProperty("clutches")[0].GetProperty("label").GetString());
        Assert.Contains(now.GetProperty("toDo").EnumerateArray(), t => t.GetProperty("what").GetString() == "Candle C-01 (day 0; there is time until day 1).");
    }

    [Fact]
    public async Task Labels_go_on_after_the_highest_and_a_label_is_used_once()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        Assert.Equal("C-01", (await room.ClutchAsync()).Text("label"));
        Assert.Equal("C-41", (await room.ClutchAsync(new { label = "C-41" })).Text("label"));
        Assert.Equal("C-42", (await room.ClutchAsync()).Text("label"));

        (await room.ClutchAsync(new { label = "c-41" })).Refuses("label", "such as C-43");

        Assert.Equal(3, (await room.GetAsync("/api/clutches")).GetArrayLength());
    }

    [Theory]
    [InlineData("2026-11-26", "still to come")]
    [InlineData("2026-07-20", "128 days ago")]
    [InlineData("0206-11-25", "check the year")]
    [InlineData("25.11.2026", "A date such as")]
    [InlineData(null, "A date such as")]
    public async Task A_lay_date_that_cannot_be_is_refused_with_words_and_nothing_is_entered(string? layDate, string words)
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        string hazel = await room.IncubatorAsync("Hazel");

        (await room.ClutchAsync(new { layDate, tub = new { name = "Tub 1", substrate = "", incubator = hazel } })).Refuses("layDate", words);

        Assert.Empty((await room.GetAsync("/api/clutches?state=all")).EnumerateArray());
        Assert.Empty((await room.GetAsync("/api/tubs")).EnumerateArray());
    }

    [Theory]
    [InlineData(0, "at least one egg")]
    [InlineData(-3, "at least one egg")]
    [InlineData(500, "more than one clutch can have")]
    [InlineData(null, "How many")]
    public async Task A_clutch_with_no_egg_or_five_hundred_is_refused_with_words(int? eggCount, string words)
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        (await room.ClutchAsync(new { eggCount })).Refuses("eggCount", words);
    }

    [Fact]
    public async Task Everything_that_is_wrong_is_said_at_once_and_each_thing_once()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        Answer answer = await room.PostAsync("/api/clutches", new
        {
            species = "dragon",
            dam = "",
            layDate = "soon",
            eggCount = 0,
            femaleCelsius = 88.0,
            foundAt = "yesterday",
            tub = new { name = "", waterGrams = -1.0, incubator = "nowhere" },
        });

        foreach (string field in new[] { "species", "dam", "layDate", "eggCount", "femaleCelsius", "foundAt", "tub.name", "tub.waterGrams", "tub.incubator" })
        {
            answer.Refuses(field);
            Assert.Equal(1, answer.Body.GetProperty("errors").GetProperty(field).GetArrayLength());
        }
    }

    [Fact]
    public async Task A_clutch_entered_on_day_30_without_readings_is_taken_and_that_is_said()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        Answer entered = (await room.ClutchAsync(new { layDate = "2026-10-26", layDateSlackDays = 3 })).Is(HttpStatusCode.Created);

        Assert.Equal(30, entered.Body.GetProperty("day").GetInt32());
        Assert.Contains(entered.Said, s => s.StartsWith("Entered on day 30", StringComparison.Ordinal));
        JsonElement page = await room.GetAsync("/api/clutches/c-01");
        Assert.Equal("Nothing watches C-01: say which tub it lies in.", page.GetProperty("next").GetString());
        Assert.Equal(3, page.GetProperty("layDateSlackDays").GetInt32());
    }

    [Fact]
    public async Task A_season_of_long_ago_is_taken_when_it_is_said_to_be_finished()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        Answer entered = (await room.ClutchAsync(new { layDate = "2024-05-02", finished = true })).Is(HttpStatusCode.Created);
        Assert.Equal("finished", entered.Text("state"));
        Assert.Empty((await room.GetAsync("/api/clutches")).EnumerateArray());
        Assert.DoesNotContain((await room.GetAsync("/api/now")).GetProperty("toDo").EnumerateArray(), t => t.GetProperty("what").GetString()!.Contains("C-01", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(null, "enter the name of the second person")]
    [InlineData("  ", "enter the name of the second person")]
    [InlineData("ada", "someone else than you")]
    public async Task Pulling_eggs_from_a_large_constrictor_takes_a_second_person_and_shows_the_cautions(string? secondPerson, string words)
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        Answer refused = (await room.ClutchAsync(new { species = "python-bivittatus", secondPerson })).Refuses("secondPerson", words);
        Assert.Contains("two trained people", refused.Body.GetProperty("cautions")[0].GetString(), StringComparison.Ordinal);

        Answer entered = (await room.ClutchAsync(new { species = "python-bivittatus", secondPerson = "Mara" })).Is(HttpStatusCode.Created);
        Assert.Contains("two trained people", entered.Body.GetProperty("cautions")[0].GetString(), StringComparison.Ordinal);
        Assert.Equal("Mara", (await room.GetAsync("/api/clutches/c-01")).GetProperty("secondPerson").GetString());
    }

    [Fact]
    public async Task Markup_and_emoji_come_back_as_they_were_written()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        const string text = "<script>alert(1)</script> & \"quotes\" 🥚🐍\nsecond line\t— ok";
        (await room.ClutchAsync(new { dam = "<b>Juno</b> 🐍", note = text })).Is(HttpStatusCode.Created);

        JsonElement page = await room.GetAsync("/api/clutches/c-01");
        Assert.Equal("<b>Juno</b> 🐍", page.GetProperty("clutch").GetProperty("dam").GetString());
        Assert.Equal(text, page.GetProperty("note").GetString());
        (await room.ClutchAsync(new { note = "bell \a" })).Refuses("note", "control characters");
        (await room.ClutchAsync(new { note = new string('x', 4001) })).Refuses("note", "4001");
    }

    [Fact]
    public async Task An_edit_changes_what_was_sent_and_two_people_who_change_different_things_both_get_their_way()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync(new { femaleCelsius = 31.2, note = "first" });

        await Task.WhenAll(
            room.PutAsync("/api/clutches/c-01", new { sire = (string?)null, label = "Juno's" }),
            room.PutAsync("/api/clutches/c-01", new { layDate = "2026-11-23", layDateSlackDays = 2 }));

        JsonElement page = await room.GetAsync("/api/clutches/c-01");
        JsonElement line = page.GetProperty("clutch");
        Assert.Equal(("Juno's", "2026-11-23", "first"), (line.GetProperty("label").GetString(), line.GetProperty("layDate").GetString(), page.GetProperty("note").GetString()));
        Assert.Equal(JsonValueKind.Null, line.GetProperty("sire").ValueKind);
        Assert.Equal((31.2, 2, 2), (page.GetProperty("femaleCelsius").GetDouble(), page.GetProperty("layDateSlackDays").GetInt32(), line.GetProperty("day").GetInt32()));

        (await room.PutAsync("/api/clutches/c-01", new { layDate = "2026-12-24" })).Refuses("layDate", "still to come");
        (await room.PutAsync("/api/clutches/c-01", new { femaleCelsius = "warm" })).Refuses("femaleCelsius");
        (await room.PutAsync("/api/clutches/none", new { label = "x" })).Is(HttpStatusCode.NotFound);
        Assert.Equal("2026-11-23", (await room.GetAsync("/api/clutches/c-01")).GetProperty("clutch").GetProperty("layDate").GetString());
    }

    // The day number turns at local midnight, also across the end of summer time: in Lisbon clocks went back on 2026-10-25 (tz database, rule EU).
    [Fact]
    public async Task Day_numbers_follow_the_facilitys_calendar()
    {
        await using EggRoom room = await EggRoom.OpenAsync(zone: "Pacific/Auckland");
        // 03:00 UTC on the 25th is 16:00 of the 25th there (UTC+13 in November).
        Assert.Equal(1, (await room.ClutchAsync(new { layDate = "2026-11-24" })).Body.GetProperty("day").GetInt32());
        room.Time.Advance(TimeSpan.FromHours(8) - TimeSpan.FromSeconds(1));
        Assert.Equal(1, (await room.GetAsync("/api/clutches/c-01")).GetProperty("clutch").GetProperty("day").GetInt32());
        room.Time.Advance(TimeSpan.FromSeconds(1));
        Assert.Equal(2, (await room.GetAsync("/api/clutches/c-01")).GetProperty("clutch").GetProperty("day").GetInt32());
    }

    [Fact]
    public async Task A_finished_clutch_leaves_its_tub_and_the_list_and_stays_readable()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        string hazel = await room.IncubatorAsync("Hazel");
        await room.ClutchAsync(new { tub = new { name = "Tub 2", substrate = "perlite", incubator = hazel } });
        room.Time.Advance(TimeSpan.FromHours(2));

        Answer finished = (await room.PostAsync("/api/clutches/c-01/finish", new { })).Is(HttpStatusCode.OK);
        Assert.Contains(finished.Said, s => s.StartsWith("6 eggs have no outcome yet", StringComparison.Ordinal));
        room.Time.Advance(TimeSpan.FromDays(3));
        (await room.PostAsync("/api/clutches/c-01/finish", new { })).Is(HttpStatusCode.OK);

        Assert.Empty((await room.GetAsync("/api/clutches")).EnumerateArray());
        JsonElement page = await room.GetAsync("/api/clutches/c-01");
        Assert.Equal("2026-11-25T05:00:00Z", page.GetProperty("finishedAt").GetString());
        Assert.Equal("2026-11-25T05:00:00Z", page.GetProperty("placements")[0].GetProperty("until").GetString());
        Assert.StartsWith("C-01, finished on day 0", page.GetProperty("sentence").GetString(), StringComparison.Ordinal);
        Assert.Empty((await room.GetAsync("/api/tubs"))[0].GetProperty("clutches").EnumerateArray());
    }

    [Fact]
    public async Task Clutches_survive_a_reload_of_the_records()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        string hazel = await room.IncubatorAsync("Hazel");
        await room.ClutchAsync(new { note = "kept", tub = new { name = "Tub 2", substrate = "perlite", incubator = hazel } });
        string before = (await room.GetAsync("/api/clutches/c-01")).GetRawText();

        await ((Service.Clutches.ClutchBook)room.Services.GetService(typeof(Service.Clutches.ClutchBook))!).LoadAsync(TestContext.Current.CancellationToken);

        Assert.Equal(before, (await room.GetAsync("/api/clutches/c-01")).GetRawText());
    }
}
