using System.Net;
using System.Text.Json;
using Xunit;

namespace Incubation.Service.Tests.Clutches;

public sealed class PlacementTests
{
    [Fact]
    public async Task A_move_of_the_tub_moves_the_clutch_and_both_stays_are_on_its_page()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        string hazel = await room.IncubatorAsync("Hazel"), rowan = await room.IncubatorAsync("Rowan", probe: false);
        await room.ClutchAsync(new { tub = new { name = "Tub 2", substrate = "perlite", incubator = hazel } });
        room.Time.Advance(TimeSpan.FromHours(6));

        Answer moved = (await room.PostAsync("/api/tubs/tub-2/placements", new { incubator = rowan, shelf = "lower", from = "2026-11-25T07:00:00Z" })).Is(HttpStatusCode.Created);

        Assert.Equal(("Rowan", "lower", "C-01"), (moved.Text("incubatorName"), moved.Text("shelf"), moved.Body.GetProperty("clutches")[0].GetString()));
        JsonElement page = await room.GetAsync("/api/clutches/c-01");
        Assert.Equal(["hazel", "rowan"], page.GetProperty("placements").EnumerateArray().Select(p => p.GetProperty("incubator").GetString()));
        Assert.Equal(["2026-11-25T07:00:00Z", null], page.GetProperty("placements").EnumerateArray().Select(p => p.GetProperty("until").GetString()));
        Assert.False(page.GetProperty("clutch").GetProperty("watched").GetBoolean());
        Assert.Contains((await room.GetAsync("/api/now")).GetProperty("toDo").EnumerateArray(),
            t => t.GetProperty("what").GetString()!.StartsWith("Nothing watches C-01: no probe is placed in Rowan", StringComparison.Ordinal) && t.GetProperty("when").GetString() == "now");
    }

    [Fact]
    public async Task A_second_tap_on_the_same_place_changes_nothing()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        string hazel = await room.IncubatorAsync("Hazel");
        await room.ClutchAsync(new { tub = new { name = "Tub 2", substrate = "perlite", incubator = hazel } });
        room.Time.Advance(TimeSpan.FromMinutes(1));

        (await room.PostAsync("/api/tubs/tub-2/placements", new { incubator = hazel })).Is(HttpStatusCode.Created);
        (await room.PostAsync("/api/clutches/c-01/placements", new { tub = "tub-2" })).Is(HttpStatusCode.Created);

        Assert.Equal("2026-11-25T03:00:00Z", Assert.Single((await room.GetAsync("/api/clutches/c-01")).GetProperty("placements").EnumerateArray()).GetProperty("from").GetString());
    }

    [Theory]
    [InlineData("2026-11-25T20:00:00Z", "still to come")]
    [InlineData("2026-11-25T03:30:00Z", "On record it was in Tub 3 from 2026-11-25 04:00 on")]
    [InlineData("2026-11-20T03:30:00Z", "before the eggs were laid")]
    [InlineData("last week", "A time such as")]
    public async Task A_move_with_a_wrong_date_is_refused_with_words_and_what_is_on_record_stays(string from, string words)
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.PostAsync("/api/tubs", new { name = "Tub 3", substrate = "perlite" });
        await room.ClutchAsync(new { layDate = "2026-11-24", tub = new { name = "Tub 2", substrate = "perlite" } });
        room.Time.Advance(TimeSpan.FromHours(1));
        (await room.PostAsync("/api/clutches/c-01/placements", new { tub = "tub-3" })).Is(HttpStatusCode.Created);
        room.Time.Advance(TimeSpan.FromHours(1));

        (await room.PostAsync("/api/clutches/c-01/placements", new { tub = "tub-2", from })).Refuses("from", words);

        Assert.Equal(["Tub 2", "Tub 3"], (await room.GetAsync("/api/clutches/c-01")).GetProperty("placements").EnumerateArray().Select(p => p.GetProperty("tubName").GetString()));
    }

    [Fact]
    public async Task What_was_before_the_first_placement_on_record_can_be_added_later()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        string hazel = await room.IncubatorAsync("Hazel");
        await room.PostAsync("/api/tubs", new { name = "Tub 3", substrate = "perlite", incubator = hazel, from = "2026-11-10T00:00:00Z" });
        await room.ClutchAsync(new { layDate = "2026-11-15", tub = new { name = "Tub 2", substrate = "perlite", incubator = hazel } });

        (await room.PostAsync("/api/clutches/c-01/placements", new { tub = "tub-3", from = "2026-11-16T12:00:00Z" })).Is(HttpStatusCode.Created);

        JsonElement[] places = [.. (await room.GetAsync("/api/clutches/c-01")).GetProperty("placements").EnumerateArray()];
        Assert.Equal(["Tub 3", "Tub 2"], places.Select(p => p.GetProperty("tubName").GetString()));
        Assert.Equal(["2026-11-25T03:00:00Z", null], places.Select(p => p.GetProperty("until").GetString()));
    }

    [Fact]
    public async Task Two_clutches_in_one_tub_are_both_kept_and_that_is_said()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        string hazel = await room.IncubatorAsync("Hazel");
        await room.ClutchAsync(new { tub = new { name = "Tub 2", substrate = "perlite", incubator = hazel } });

        Answer second = (await room.ClutchAsync(new { dam = "Vesta", tub = new { key = "tub-2" } })).Is(HttpStatusCode.Created);

        Assert.Contains(second.Said, s => s.StartsWith("C-01 lies in Tub 2 too", StringComparison.Ordinal));
        Assert.Equal(["C-01", "C-02"], (await room.GetAsync("/api/tubs"))[0].GetProperty("clutches").EnumerateArray().Select(c => c.GetString()));
        Assert.Contains((await room.GetAsync("/api/clutches/c-01")).GetProperty("said").EnumerateArray(), s => s.GetString()!.StartsWith("C-02 lies in Tub 2 too", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_tub_in_an_incubator_without_a_probe_is_taken_and_it_is_said_that_nothing_watches()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        string rowan = await room.IncubatorAsync("Rowan", probe: false);
        Answer entered = (await room.ClutchAsync(new { tub = new { name = "Tub 2", substrate = "perlite", incubator = rowan } })).Is(HttpStatusCode.Created);
        Assert.Contains(entered.Said, s => s.Contains("No probe is placed in Rowan", StringComparison.Ordinal));
        Assert.False(entered.Body.GetProperty("watched").GetBoolean());
    }

    [Fact]
    public async Task A_probe_that_lies_in_another_tub_does_not_watch()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        string hazel = await room.IncubatorAsync("Hazel", where: "Tub 2, between eggs");
        await room.ClutchAsync(new { tub = new { name = "Tub 2", substrate = "perlite", incubator = hazel } });
        await room.ClutchAsync(new { tub = new { name = "Tub 21", substrate = "perlite", incubator = hazel } });

        Assert.Equal([true, false], (await room.GetAsync("/api/clutches")).EnumerateArray().Select(c => c.GetProperty("watched").GetBoolean()));
    }

    [Fact]
    public async Task A_tub_has_a_name_of_its_own_and_an_incubator_with_eggs_in_it_is_not_retired()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        string rowan = await room.IncubatorAsync("Rowan", probe: false);
        await room.ClutchAsync(new { tub = new { name = "Tub 2", substrate = "perlite", incubator = rowan } });

        (await room.PostAsync("/api/tubs", new { name = "tub 2", substrate = "" })).Refuses("name", "There is a tub Tub 2 already, in Rowan");
        (await room.PostAsync("/api/tubs/none/placements", new { incubator = rowan })).Is(HttpStatusCode.NotFound);
        (await room.PostAsync("/api/tubs/tub-2/placements", new { incubator = "none" })).Refuses("incubator");
        (await room.DeleteAsync("/api/incubators/rowan")).Is(HttpStatusCode.Conflict);
        await room.PostAsync("/api/clutches/c-01/finish", new { });
        (await room.DeleteAsync("/api/incubators/rowan")).Is(HttpStatusCode.NoContent);
    }
}
