using System.Net;
using System.Text.Json;
using Xunit;

namespace Incubation.Service.Tests.Clutches;

public sealed class EggTests
{
    [Fact]
    public async Task Eggs_lie_where_they_were_dragged_and_clumps_stay_together()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync();
        (await room.PutAsync("/api/clutches/c-01/plan", new { eggs = new[] { new { number = 1, x = 0.1, y = 0.2, clump = 7 }, new { number = 2, x = 0.15, y = 0.2, clump = 7 } } }))
            .Is(HttpStatusCode.OK);

        // A page that knows no clumps drags one of them: the clump stays.
        (await room.PutAsync("/api/clutches/c-01/plan", new { eggs = new[] { new { number = 2, x = 0.9, y = 1.0 } } })).Is(HttpStatusCode.OK);

        JsonElement[] eggs = await EggsAsync(room);
        Assert.Equal((0.1, 0.2, 7), (eggs[0].GetProperty("x").GetDouble(), eggs[0].GetProperty("y").GetDouble(), eggs[0].GetProperty("clump").GetInt32()));
        Assert.Equal((0.9, 1.0, 7), (eggs[1].GetProperty("x").GetDouble(), eggs[1].GetProperty("y").GetDouble(), eggs[1].GetProperty("clump").GetInt32()));

        Answer alone = (await room.PutAsync("/api/clutches/c-01/plan", new { eggs = new[] { new { number = 1, x = 0.1, y = 0.2, clump = 0 } } })).Is(HttpStatusCode.OK);
        Assert.Contains(alone.Said, s => s.Contains("stuck, but to no other egg", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_plan_with_a_number_twice_an_egg_outside_or_no_egg_is_refused_and_nothing_moves()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync();
        string before = (await room.GetAsync("/api/clutches/c-01")).GetProperty("eggs").GetRawText();
        const string plan = "/api/clutches/c-01/plan";

        (await room.PutAsync(plan, new { eggs = new[] { new { number = 3, x = 0.1, y = 0.2 }, new { number = 3, x = 0.5, y = 0.2 } } })).Refuses("eggs", "Number 3 is on 2 eggs");
        (await room.PutAsync(plan, new { eggs = new[] { new { number = 3, x = 1.01, y = 0.2 } } })).Refuses("eggs", "outside the tub");
        (await room.PutAsync(plan, new { eggs = new[] { new { number = 77, x = 0.1, y = 0.2 } } })).Refuses("eggs", "There is no egg 77");
        (await room.PutAsync(plan, new { eggs = Enumerable.Range(1, 500).Select(n => new { number = n, x = 0.1, y = 0.2 }) })).Refuses("eggs", "500 eggs are more");
        (await room.PutAsync(plan, new { eggs = Array.Empty<object>() })).Refuses("eggs", "At least one egg");
        (await room.PutAsync(plan, new { })).Refuses("eggs");
        (await room.PutAsync(plan, new { eggs = new object?[] { null } })).Refuses("eggs", "needs its number and its place");

        Assert.Equal(before, (await room.GetAsync("/api/clutches/c-01")).GetProperty("eggs").GetRawText());
    }

    [Fact]
    public async Task An_egg_is_added_by_its_number_once_and_taken_away_only_while_nothing_is_on_record()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync();

        (await room.PostAsync("/api/clutches/c-01/eggs", new { number = 12 })).Is(HttpStatusCode.Created);
        (await room.PostAsync("/api/clutches/c-01/eggs", new { number = 12 })).Refuses("number", "The next free number is 7");
        (await room.PostAsync("/api/clutches/c-01/eggs", new { number = 0 })).Refuses("number", "between 1 and 9999");
        (await room.PostAsync("/api/clutches/c-01/eggs", new { })).Refuses("number");
        Assert.Equal([1, 2, 3, 4, 5, 6, 12], (await EggsAsync(room)).Select(e => e.GetProperty("number").GetInt32()));

        await room.PutAsync($"/api/clutches/c-01/candlings/{Guid.CreateVersion7()}", new { egg = 6, veins = "spot", at = "2026-11-25T02:00:00Z" });
        (await room.DeleteAsync("/api/clutches/c-01/eggs/12")).Is(HttpStatusCode.NoContent);
        (await room.DeleteAsync("/api/clutches/c-01/eggs/6")).Is(HttpStatusCode.Conflict);
        (await room.DeleteAsync("/api/clutches/c-01/eggs/99")).Is(HttpStatusCode.NotFound);
        Assert.Equal(6, (await EggsAsync(room)).Length);
    }

    [Fact]
    public async Task Of_two_people_who_add_the_same_number_at_once_one_gets_it_and_the_other_is_told()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.ClutchAsync();
        Answer[] answers = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => room.PostAsync("/api/clutches/c-01/eggs", new { number = 9 })));
        Assert.Single(answers, a => a.Status == HttpStatusCode.Created);
        Assert.All(answers.Where(a => a.Status != HttpStatusCode.Created), a => a.Refuses("number", "There is an egg 9"));
    }

    private static async Task<JsonElement[]> EggsAsync(EggRoom room)
        => [.. (await room.GetAsync("/api/clutches/c-01")).GetProperty("eggs").EnumerateArray()];
}
