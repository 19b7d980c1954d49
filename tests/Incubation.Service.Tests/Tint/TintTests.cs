using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Incubation.Service.Clutches;
using Incubation.Service.Tests.Development;
using Incubation.Service.Tint;
using Incubation.Storage.Records;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Tint;

public sealed class TintTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 3, 1, 12, 0);

    [Fact]
    public async Task A_new_facility_begins_with_plain_trade_words_that_are_on_record()
    {
        await using EggRoom room = await EggRoom.StartAsync(Now);

        JsonElement[] tints = [.. (await room.GetAsync("/api/tints")).EnumerateArray()];

        Assert.Equal(["pink", "peach", "red", "greenish", "yellow", "off-white", "dark"], tints.Select(tint => tint.GetProperty("word").GetString()));
        await room.SeedAsync(records => Assert.Equal(7, records.TintTerms.Count()));
    }

    [Fact]
    public async Task A_word_is_changed_and_one_is_added_and_both_are_there_for_every_room()
    {
        await using EggRoom room = await EggRoom.StartAsync(Now);

        using HttpResponseMessage changed = await PutAsync(room, "pink", new { word = "rosy", meaning = "As it is.", colour = "#E58A94" });
        using HttpResponseMessage added = await PutAsync(room, "amber", new { word = "amber", meaning = "", colour = "#ffbf00" });

        Assert.Equal((HttpStatusCode.OK, HttpStatusCode.OK), (changed.StatusCode, added.StatusCode));
        ITintWords words = room.Services.GetRequiredService<ITintWords>();
        Assert.Equal(("rosy", "#e58a94"), (words.Terms[0].Word, words.Terms[0].Colour));
        Assert.Equal("amber", words.Terms[^1].Key);
    }

    [Theory]
    [InlineData("Pink!", "x", "#e58a94", "key")]
    [InlineData("pink", "", "#e58a94", "word")]
    [InlineData("pink", "peach", "#e58a94", "word")]
    [InlineData("pink", "pink", "red", "colour")]
    [InlineData("pink", "pink", "#e58a9g", "colour")]
    [InlineData("pink", "pink", null, "colour")]
    public async Task A_wrong_word_is_named_with_what_is_allowed(string key, string word, string? colour, string field)
    {
        await using EggRoom room = await EggRoom.StartAsync(Now);

        using HttpResponseMessage answer = await PutAsync(room, Uri.EscapeDataString(key), new { word, meaning = "", colour });

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        JsonElement problem = await answer.Content.ReadFromJsonAsync<JsonElement>(TestContext.Current.CancellationToken);
        Assert.True(problem.GetProperty("errors").TryGetProperty(field, out _), problem.GetRawText());
        Assert.Equal("pink", room.Services.GetRequiredService<ITintWords>().Terms[0].Word);
    }

    [Fact]
    public async Task The_list_is_bounded_and_says_so()
    {
        await using EggRoom room = await EggRoom.StartAsync(Now);
        await room.SeedAsync(records => records.TintTerms.AddRange(Enumerable.Range(0, TintShelf.MostTerms - 7).Select(i => new TintTermRecord
        {
            Key = $"t{i}",
            Word = $"word {i}",
            Meaning = "",
            Colour = "#000000",
            Position = 7 + i,
        })));

        using HttpResponseMessage one = await PutAsync(room, "one-more", new { word = "one more", meaning = "", colour = "#ffbf00" });

        Assert.Equal(HttpStatusCode.Conflict, one.StatusCode);
    }

    private static Task<HttpResponseMessage> PutAsync(EggRoom room, string key, object body)
        => room.Http.PutAsJsonAsync($"/api/tints/{key}", body, TestContext.Current.CancellationToken);
}
