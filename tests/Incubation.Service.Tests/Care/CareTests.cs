using System.Net;
using System.Text.Json;
using Incubation.Service.Tests.Clutches;
using Xunit;

namespace Incubation.Service.Tests.Care;

public sealed class CareTests
{
    private const string At = "2026-11-25T02:00:00Z";

    [Fact]
    public async Task What_was_done_is_on_the_log_of_its_tub_and_not_on_another()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        string hazel = await room.IncubatorAsync("Hazel");
        await room.PostAsync("/api/tubs", new { name = "Tub 2", substrate = "perlite" });

        Answer water = (await PutAsync(room, Guid.CreateVersion7(), new { on = "tub", key = "tub-2", kind = "water", waterGrams = 40.0, at = At })).Is(HttpStatusCode.Created);
        (await PutAsync(room, Guid.CreateVersion7(), new { on = "incubator", key = hazel, kind = "lid", at = "2026-11-25T02:30:00Z" })).Is(HttpStatusCode.Created);

        Assert.Equal(("Tub 2", "Ada"), (water.Text("name"), water.Text("by")));
        Assert.Equal(40, Assert.Single((await room.GetAsync("/api/care?on=tub&key=tub-2")).EnumerateArray()).GetProperty("waterGrams").GetDouble());
        Assert.Equal(["lid", "water"], (await room.GetAsync("/api/care")).EnumerateArray().Select(c => c.GetProperty("kind").GetString()));
        Assert.Single((await room.GetAsync("/api/care?limit=1")).EnumerateArray());
    }

    [Fact]
    public async Task The_same_tap_sent_twice_at_once_is_one_line_and_another_under_its_id_is_refused()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        string hazel = await room.IncubatorAsync("Hazel");
        var id = Guid.CreateVersion7();
        var body = new { on = "incubator", key = hazel, kind = "other", note = "fan swapped <b>🌀</b>", at = "2026-11-25T02:00:00.123456Z" };

        Answer[] answers = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => PutAsync(room, id, body)));
        Assert.Single(answers, a => a.Status == HttpStatusCode.Created);
        Assert.Equal(5, answers.Count(a => a.Status == HttpStatusCode.OK));
        (await PutAsync(room, id, new { on = "incubator", key = hazel, kind = "lid", at = At })).Is(HttpStatusCode.Conflict);

        JsonElement line = Assert.Single((await room.GetAsync("/api/care")).EnumerateArray());
        Assert.Equal("fan swapped <b>🌀</b>", line.GetProperty("note").GetString());
    }

    [Theory]
    [InlineData("shelf", "hazel", "lid", null, null, At, "on")]
    [InlineData("tub", "none", "lid", null, null, At, "key")]
    [InlineData("incubator", "hazel", "polish", null, null, At, "kind")]
    [InlineData("incubator", "hazel", "other", null, " ", At, "note")]
    [InlineData("incubator", "hazel", "lid", 5.0, null, At, "waterGrams")]
    [InlineData("incubator", "hazel", "water", 0.0, null, At, "waterGrams")]
    [InlineData("incubator", "hazel", "lid", null, null, "2026-11-25T03:30:00Z", "at")]
    [InlineData("incubator", "hazel", "lid", null, null, null, "at")]
    public async Task What_cannot_be_is_refused_with_the_field(string on, string key, string kind, double? waterGrams, string? note, string? at, string field)
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        await room.IncubatorAsync("Hazel");
        (await PutAsync(room, Guid.CreateVersion7(), new { on, key, kind, waterGrams, note, at })).Refuses(field);
        Assert.Empty((await room.GetAsync("/api/care")).EnumerateArray());
    }

    [Fact]
    public async Task A_turned_egg_is_noted_and_what_is_known_of_turning_is_said()
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        string hazel = await room.IncubatorAsync("Hazel");
        Answer turned = (await PutAsync(room, Guid.CreateVersion7(), new { on = "incubator", key = hazel, kind = "turn", at = At })).Is(HttpStatusCode.Created);
        Assert.Contains(turned.Said, s => s.Contains("mark its top", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("?on=shelf", "on")]
    [InlineData("?key=hazel", "on")]
    [InlineData("?limit=0", "limit")]
    [InlineData("?limit=501", "limit")]
    public async Task A_question_that_cannot_be_is_refused(string query, string field)
    {
        await using EggRoom room = await EggRoom.OpenAsync();
        (await Answer.OfAsync(room.Http.GetAsync($"/api/care{query}", TestContext.Current.CancellationToken))).Refuses(field);
    }

    private static Task<Answer> PutAsync(EggRoom room, Guid id, object body) => room.PutAsync($"/api/care/{id}", body);
}
