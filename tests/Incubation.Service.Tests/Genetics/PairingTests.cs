using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Incubation.Service.Tests.Development;
using Incubation.Storage.Records;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Genetics;

/// <summary>Ratios: Mendel 1866; incomplete dominance and tints as markers: common practice, no source.</summary>
public sealed class PairingTests
{
    private static readonly LocalDate LayDate = new(2026, 3, 1);
    private static readonly Instant Noon = Instant.FromUtc(2026, 3, 1, 12, 0);
    private static readonly Instant Now = Noon + Duration.FromDays(60);

    [Fact]
    public async Task A_pairing_gives_exact_shares_and_the_spread_for_its_eggs()
    {
        await using EggRoom room = await RoomAsync("incomplete dominant");

        JsonElement pairing = await PairAsync(room, 1, 0);

        Assert.Equal(["0 1/2 normal", "1 1/2 Ember"], Shares(pairing));
        JsonElement expected = pairing.GetProperty("expectedCarriers");
        // Binomial of 8 and 1/2: 0 and 8 each 1/256, outside of 95 in 100; 1 and 7 are within.
        Assert.Equal((4.0, 1, 7), (expected.GetProperty("mean").GetDouble(), expected.GetProperty("low").GetInt32(), expected.GetProperty("high").GetInt32()));
        Assert.Contains("No hatch has confirmed this marker yet", pairing.GetProperty("marker").GetProperty("words").GetString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("incomplete dominant", 1, 1, "0 1/4 normal|1 1/2 Ember|2 1/4 super Ember")]
    [InlineData("incomplete dominant", 2, 0, "1 1 Ember")]
    [InlineData("recessive", 1, 1, "0 1/4 normal|1 1/2 looks normal, carries Ember|2 1/4 Ember")]
    [InlineData("dominant", 1, 0, "0 1/2 normal|1 1/2 Ember")]
    public async Task Shares_of_each_kind_of_trait(string inheritance, int dam, int sire, string shares)
    {
        await using EggRoom room = await RoomAsync(inheritance);

        Assert.Equal(shares.Split('|'), Shares(await PairAsync(room, dam, sire)));
    }

    [Fact]
    public async Task A_sire_whose_copies_nobody_knows_gives_words_instead_of_shares()
    {
        await using EggRoom room = await RoomAsync("incomplete dominant");

        JsonElement pairing = await PairAsync(room, 1, null);

        Assert.Empty(Shares(pairing));
        Assert.Equal(JsonValueKind.Null, pairing.GetProperty("expectedCarriers").ValueKind);
        Assert.Contains("The sire's copies are not known", pairing.GetProperty("words").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Eggs_are_counted_by_their_glow_and_the_count_is_judged()
    {
        await using EggRoom room = await RoomAsync("incomplete dominant");
        await GlowAsync(room, number => number switch { <= 5 => "greenish", <= 7 => "pink", _ => "dark" });

        JsonElement pairing = await PairAsync(room, 1, 0);

        JsonElement glowing = pairing.GetProperty("glowing");
        Assert.Equal((5, 2, 1), (Count(glowing, "carrier"), Count(glowing, "other"), Count(glowing, "unsure")));
        // Binomial of 7 and 1/2: 0, 1, 2, 5, 6 and 7 are as unlikely as 5 or more so: 58/128.
        Assert.Equal(58.0 / 128, pairing.GetProperty("likelihood").GetProperty("p").GetDouble(), 1e-12);
        Assert.Contains("consistent with the pairing", pairing.GetProperty("likelihood").GetProperty("words").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task After_hatch_hits_and_misses_are_counted_over_all_clutches_with_their_intervals()
    {
        await using EggRoom room = await RoomAsync("incomplete dominant");
        await GlowAsync(room, number => number <= 5 ? "greenish" : "pink");
        // Of the five that glowed as carriers four are; of the three others one is a carrier too.
        await HatchAsync(room, "c-01", number => number is <= 4 or 6 ? "one copy" : "none");
        await room.ClutchAsync("c-02", LayDate, null, eggs: 1);
        await HatchAsync(room, "c-02", _ => "one copy");

        JsonElement marker = (await PairAsync(room, 1, 0)).GetProperty("marker");

        Assert.Equal((6, 2), (Count(marker, "hits"), Count(marker, "misses")));
        JsonElement sensitivity = marker.GetProperty("sensitivity"), specificity = marker.GetProperty("specificity");
        Assert.Equal((4, 5), (Count(sensitivity, "k"), Count(sensitivity, "n")));
        // Wilson 1927 at 95 %: 4 of 5 and 2 of 3, worked out by hand.
        Assert.Equal(0.37553, sensitivity.GetProperty("low").GetDouble(), 1e-5);
        Assert.Equal(0.96378, sensitivity.GetProperty("high").GetDouble(), 1e-5);
        Assert.Equal((2, 3), (Count(specificity, "k"), Count(specificity, "n")));
        Assert.Equal(0.20766, specificity.GetProperty("low").GetDouble(), 1e-5);
        Assert.Equal(0.93851, specificity.GetProperty("high").GetDouble(), 1e-5);
        Assert.Equal(["greenish"], marker.GetProperty("terms").EnumerateArray().Select(t => t.GetString()));
        JsonElement trait = Assert.Single((await room.GetAsync("/api/traits")).EnumerateArray());
        Assert.Equal(6, Count(trait.GetProperty("marker"), "hits"));
    }

    [Fact]
    public async Task A_normal_looking_young_of_a_recessive_trait_proves_nothing_where_carriers_look_normal()
    {
        await using EggRoom room = await RoomAsync("recessive");
        await PairAsync(room, 1, 1);
        await GlowAsync(room, _ => "greenish");
        await HatchAsync(room, "c-01", number => number == 1 ? "two copies" : "none");

        JsonElement marker = Assert.Single((await room.GetAsync("/api/traits")).EnumerateArray()).GetProperty("marker");

        Assert.Equal((1, 0), (Count(marker, "hits"), Count(marker, "misses")));
        Assert.Equal(JsonValueKind.Null, marker.GetProperty("specificity").ValueKind);
    }

    [Fact]
    public async Task A_tint_seen_after_the_hatch_is_no_forecast()
    {
        await using EggRoom room = await RoomAsync("incomplete dominant");
        await HatchAsync(room, "c-01", _ => "one copy");
        await room.EggsAsync("c-01", (_, egg) => [Look(egg, "greenish", Now)]);

        JsonElement marker = (await PairAsync(room, 1, 0)).GetProperty("marker");

        Assert.Equal((0, 0), (Count(marker, "hits"), Count(marker, "misses")));
    }

    [Fact]
    public async Task The_newest_pairing_holds_and_the_same_again_adds_nothing()
    {
        await using EggRoom room = await RoomAsync("incomplete dominant");
        await PairAsync(room, 1, 0);
        await PairAsync(room, 1, 0);

        // The clock stands still: the newest holds all the same.
        JsonElement pairing = await PairAsync(room, 1, 1);

        Assert.Equal(1, Count(pairing, "sireCopies"));
        await room.SeedAsync(records => Assert.Equal(2, records.Pairings.Count()));
    }

    [Theory]
    [InlineData("POST", "/api/traits", """{"name":" ","inheritance":"dominant"}""", "name")]
    [InlineData("POST", "/api/traits", """{"name":"ember","inheritance":"dominant"}""", "name")]
    [InlineData("POST", "/api/traits", """{"name":"Moss","inheritance":"co-dominant"}""", "inheritance")]
    [InlineData("POST", "/api/traits", """{"name":"Moss","inheritance":"dominant","carrierTints":["mauve"]}""", "carrierTints")]
    [InlineData("POST", "/api/traits", """{"name":"Moss","inheritance":"dominant","carrierTints":["pink","pink"]}""", "carrierTints")]
    [InlineData("PUT", "/api/clutches/c-01/pairings/ember", """{"damCopies":3,"sireCopies":0}""", "damCopies")]
    [InlineData("PUT", "/api/clutches/c-01/pairings/ember", """{"sireCopies":0}""", "damCopies")]
    [InlineData("PUT", "/api/clutches/c-01/pairings/ember", """{"damCopies":1,"sireCopies":-1}""", "sireCopies")]
    [InlineData("PUT", "/api/clutches/c-01/pairings/moss", """{"damCopies":1}""", null)]
    [InlineData("PUT", "/api/clutches/c-99/pairings/ember", """{"damCopies":1}""", null)]
    [InlineData("PUT", "/api/traits/moss", """{"name":"Moss","inheritance":"dominant"}""", null)]
    public async Task What_is_wrong_is_named_and_nothing_changes(string method, string path, string body, string? field)
    {
        await using EggRoom room = await RoomAsync("incomplete dominant");
        using var request = new HttpRequestMessage(new HttpMethod(method), path) { Content = new StringContent(body, System.Text.Encoding.UTF8, "application/json") };

        using HttpResponseMessage answer = await room.Http.SendAsync(request, TestContext.Current.CancellationToken);

        Assert.Equal(field is null ? HttpStatusCode.NotFound : HttpStatusCode.BadRequest, answer.StatusCode);
        JsonElement problem = await answer.Content.ReadFromJsonAsync<JsonElement>(TestContext.Current.CancellationToken);
        Assert.True(field is null || problem.GetProperty("errors").TryGetProperty(field, out _), problem.GetRawText());
        Assert.Single((await room.GetAsync("/api/traits")).EnumerateArray());
        await room.SeedAsync(records => Assert.Equal(0, records.Pairings.Count()));
    }

    private static async Task<EggRoom> RoomAsync(string inheritance)
    {
        EggRoom room = await EggRoom.StartAsync(Now);
        await room.ClutchAsync("c-01", LayDate, null);
        using HttpResponseMessage added = await room.Http.PostAsJsonAsync(
            "/api/traits", new { name = "Ember", inheritance, carrierTints = new[] { "greenish" } }, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.Created, added.StatusCode);
        return room;
    }

    private static async Task<JsonElement> PairAsync(EggRoom room, int damCopies, int? sireCopies)
    {
        using HttpResponseMessage answer = await room.Http.PutAsJsonAsync(
            "/api/clutches/c-01/pairings/ember", new { damCopies, sireCopies }, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return await answer.Content.ReadFromJsonAsync<JsonElement>(TestContext.Current.CancellationToken);
    }

    private static Task GlowAsync(EggRoom room, Func<int, string> tint)
        => room.EggsAsync("c-01", (number, egg) => [Look(egg, tint(number), Noon + Duration.FromDays(10))]);

    private static Task HatchAsync(EggRoom room, string clutch, Func<int, string> seen)
        => room.EggsAsync(clutch, (number, egg) => [new OutcomeRecord
        {
            Id = Guid.NewGuid(),
            Egg = egg,
            Kind = "out",
            Trait = "ember",
            TraitSeen = seen(number),
            At = Now - Duration.FromDays(1),
            By = "Ada",
        }]);

    private static CandlingRecord Look(Guid egg, string tint, Instant at)
        => new() { Id = Guid.NewGuid(), Egg = egg, Tint = tint, TintWord = tint, Veins = "full net", At = at, By = "Ada", EnteredAt = at };

    private static string[] Shares(JsonElement pairing) => [.. pairing.GetProperty("shares").EnumerateArray().Select(share =>
        $"{share.GetProperty("copies").GetInt32()} {share.GetProperty("share").GetString()} {share.GetProperty("looks").GetString()}")];

    private static int Count(JsonElement element, string name) => element.GetProperty(name).GetInt32();
}
