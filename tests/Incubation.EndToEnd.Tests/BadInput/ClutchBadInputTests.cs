using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;
using Incubation.EndToEnd.Tests.Instruments;
using Incubation.EndToEnd.Tests.Night;
using Microsoft.Playwright;
using Xunit;

namespace Incubation.EndToEnd.Tests.BadInput;

/// <summary>Bad input about clutches, on the real program: a clear word, nothing lost, both kept.</summary>
public sealed class ClutchBadInputTests : IAsyncLifetime
{
    private const string Hostile = "<script>document.title='gone'</script><img src=x onerror=\"document.title='gone'\"> & <b>dented</b> 🥚🐍 ü";

    private EggRoom _room = null!;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync() => _room = await EggRoom.OpenAsync(new ServiceSetup(), Stop);

    public ValueTask DisposeAsync() => _room.DisposeAsync();

    [Fact]
    public async Task A_lay_date_ahead_or_four_months_ago_is_refused_with_words_and_the_finished_one_is_kept()
    {
        Assert.Contains("still to come", await RefusedAsync("layDate", Clutch(laidDaysAgo: -1)), StringComparison.Ordinal);
        Assert.Contains("Check the month and year", await RefusedAsync("layDate", Clutch(laidDaysAgo: 123)), StringComparison.Ordinal);
        Assert.Contains("such as", await RefusedAsync("layDate", Clutch(laidDaysAgo: 3, clutch => clutch["layDate"] = "31.02.2026")), StringComparison.Ordinal);
        Assert.Empty(await ClutchesAsync());

        JsonNode kept = await EnterAsync(Clutch(laidDaysAgo: 123, clutch => clutch["finished"] = true));
        Assert.Equal("finished", (string?)kept["state"]);
        Assert.Single(await ClutchesAsync());
    }

    [Theory]
    [InlineData(0, "at least one egg")]
    [InlineData(-3, "at least one egg")]
    [InlineData(500, "500 eggs are more than")]
    public async Task A_clutch_of_so_many_eggs_is_refused_with_words(int eggs, string words)
    {
        Assert.Contains(words, await RefusedAsync("eggCount", Clutch(laidDaysAgo: 3, clutch => clutch["eggCount"] = eggs)), StringComparison.Ordinal);
        Assert.Empty(await ClutchesAsync());
    }

    [Fact]
    public async Task An_egg_number_twice_is_refused_with_the_next_free_one_and_the_eggs_stay()
    {
        string key = (string)(await EnterAsync(Clutch(laidDaysAgo: 3)))["key"]!;
        Assert.Contains("The next free number is 5", await RefusedAsync("number", new JsonObject { ["number"] = 3 }, $"/api/clutches/{key}/eggs"), StringComparison.Ordinal);
        JsonObject plan = new() { ["eggs"] = new JsonArray(Egg(1, 0.2), Egg(1, 0.8)) };
        (HttpStatusCode status, string? media, string text) = await _room.Owner.TryAsync(HttpMethod.Put, $"/api/clutches/{key}/plan", plan, Stop);
        Assert.True(status == HttpStatusCode.BadRequest && media == "application/problem+json", text);
        Assert.Equal([1, 2, 3, 4], (await PageAsync(key))["eggs"]!.AsArray().Select(egg => (int)egg!["number"]!));
    }

    [Fact]
    public async Task Two_clutches_in_one_tub_are_both_kept_and_it_is_said()
    {
        JsonNode first = await EnterAsync(Clutch(laidDaysAgo: 3, clutch => clutch["tub"] = Tub("Tub 1")));
        JsonNode second = await EnterAsync(Clutch(laidDaysAgo: 2, clutch => clutch["tub"] = new JsonObject { ["key"] = (string?)first["tub"] }));
        string said = string.Join(" ", second["said"]!.AsArray().Select(words => (string?)words));
        Assert.Contains("C-01 lies in Tub 1 too. Both are kept", said, StringComparison.Ordinal);
        Assert.Equal(["C-01", "C-02"], (await ClutchesAsync()).Where(line => (string?)line["tub"] == (string?)first["tub"]).Select(line => (string?)line["label"]).Order());
        // A second tub of the same name would be mistaken for the first.
        Assert.Contains("There is a tub Tub 1 already", await RefusedAsync("tub.name", Clutch(laidDaysAgo: 1, clutch => clutch["tub"] = Tub("tub 1"))), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_clutch_without_a_probe_says_that_nothing_is_watched_until_a_probe_is_placed()
    {
        JsonNode spare = await _room.Owner.SendAsync(HttpMethod.Post, "/api/incubators", new JsonObject { ["name"] = "Rowan" }, Stop);
        JsonObject tub = Tub("Tub 1");
        tub["incubator"] = (string?)spare["key"];
        JsonNode clutch = await EnterAsync(Clutch(laidDaysAgo: 3, entry => entry["tub"] = tub));
        Assert.False((bool)clutch["watched"]!);
        Assert.Contains("Nothing watches C-01", await ToDoAsync(), StringComparison.Ordinal);
        Assert.Contains("no probe speaks for it", ((string)(await PageAsync((string)clutch["key"]!))["forecastWords"]!).ToLowerInvariant(), StringComparison.Ordinal);

        await _room.Owner.SendAsync(HttpMethod.Post, $"/api/tubs/{(string?)clutch["tub"]}/placements", new JsonObject { ["incubator"] = _room.Incubator }, Stop);
        Assert.True((bool)(await PageAsync((string)clutch["key"]!))["clutch"]!["watched"]!);
        Assert.DoesNotContain("Nothing watches", await ToDoAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_probe_or_a_clutch_moved_with_a_wrong_date_is_refused_and_stays_where_it_is()
    {
        JsonNode spare = await _room.Owner.SendAsync(HttpMethod.Post, "/api/incubators", new JsonObject { ["name"] = "Rowan" }, Stop);
        string placements = $"/api/probes/{EggRoom.Probe}/placements";
        foreach (double days in (double[])[2, -400])
        {
            JsonObject move = new() { ["incubator"] = (string?)spare["key"], ["where"] = "air, upper", ["from"] = At(days) };
            Assert.False(string.IsNullOrWhiteSpace(await RefusedAsync("from", move, placements)));
        }

        Assert.Equal(_room.Incubator, (string?)(await _room.Owner.GetAsync("/api/probes", Stop))["placed"]!.AsArray().Single()!["incubator"]);

        JsonNode clutch = await EnterAsync(Clutch(laidDaysAgo: 3, entry => entry["tub"] = Tub("Tub 1")));
        JsonNode other = await _room.Owner.SendAsync(HttpMethod.Post, "/api/tubs", Tub("Tub 2"), Stop);
        string moves = $"/api/clutches/{(string?)clutch["key"]}/placements";
        Assert.Contains("still to come", await RefusedAsync("from", new JsonObject { ["tub"] = (string?)other["key"], ["from"] = At(1) }, moves), StringComparison.Ordinal);
        Assert.Contains("before the eggs were laid", await RefusedAsync("from", new JsonObject { ["tub"] = (string?)other["key"], ["from"] = At(-30) }, moves), StringComparison.Ordinal);
        Assert.Equal((string?)clutch["tub"], (string?)(await PageAsync((string)clutch["key"]!))["clutch"]!["tub"]);
    }

    [Fact(Timeout = 120_000)]
    public async Task Markup_and_emoji_in_notes_are_shown_as_the_text_they_are()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        JsonNode clutch = await EnterAsync(Clutch(laidDaysAgo: 9, entry => (entry["note"], entry["dam"], entry["tub"]) = (Hostile, "<i>Juno</i>", Tub("Tub 1"))));
        string key = (string)clutch["key"]!;
        await _room.Owner.SendAsync(HttpMethod.Put, $"/api/clutches/{key}/candlings/{Guid.CreateVersion7()}", Look("pink", Hostile), stop);
        JsonObject care = new() { ["on"] = "tub", ["key"] = (string?)clutch["tub"], ["kind"] = "other", ["note"] = Hostile, ["at"] = At(0) };
        await _room.Owner.SendAsync(HttpMethod.Put, $"/api/care/{Guid.CreateVersion7()}", care, stop);
        Assert.Equal(Hostile, (string?)(await PageAsync(key))["note"]);

        await using Browser browser = await Browser.OpenAsync();
        IPage page = await browser.SignedInAsync((390, 844), _room.Service.Address);
        List<string> faults = [];
        page.Console += (_, message) => faults.AddRange(message.Type == "error" ? [message.Text] : []);
        foreach (string path in (string[])[$"/clutches/{key}", $"/clutches/{key}/review", "/clutches", "/"])
        {
            await page.GotoAsync(path);
            await Assertions.Expect(page.GetByText("C-01").First).ToBeVisibleAsync();
            if (path.EndsWith(key, StringComparison.Ordinal))
            {
                await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { NameRegex = new System.Text.RegularExpressions.Regex("^Egg 1,") }).TapAsync();
                await Assertions.Expect(page.Locator(".entry").GetByText(Hostile)).ToBeVisibleAsync();
                await Browser.PictureAsync(page, "hostile-note-390");
            }

            Assert.Equal(0, await page.Locator("main script, main img[src=x], main b:text-is('dented'), main i:text-is('Juno')").CountAsync());
            Assert.NotEqual("gone", await page.TitleAsync());
            await Browser.HoldFittingAsync(page, path);
        }

        Assert.Empty(faults);
    }

    private static JsonObject Look(string tint, string note) => new()
    {
        ["egg"] = 1,
        ["tint"] = tint,
        ["veins"] = "spreading",
        ["note"] = note,
        ["at"] = At(0),
    };

    private static JsonObject Clutch(int laidDaysAgo, Action<JsonObject>? change = null)
    {
        JsonObject clutch = new()
        {
            ["species"] = "python-regius",
            ["dam"] = "Juno",
            ["sire"] = "Pike",
            ["layDate"] = At(-laidDaysAgo)[..10],
            ["eggCount"] = 4,
        };
        change?.Invoke(clutch);
        return clutch;
    }

    private JsonObject Tub(string name) => new() { ["name"] = name, ["substrate"] = "vermiculite", ["incubator"] = _room.Incubator };

    private static JsonObject Egg(int number, double x) => new() { ["number"] = number, ["x"] = x, ["y"] = 0.5 };

    private static string At(double days) => TimeProvider.System.GetUtcNow().AddDays(days).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    private Task<JsonNode> EnterAsync(JsonObject clutch) => _room.Owner.SendAsync(HttpMethod.Post, "/api/clutches", clutch, Stop);

    private Task<JsonNode> PageAsync(string key) => _room.Owner.GetAsync($"/api/clutches/{key}", Stop);

    private async Task<IReadOnlyList<JsonNode>> ClutchesAsync()
        => [.. (await _room.Owner.GetAsync("/api/clutches?state=all", Stop)).AsArray().Select(line => line!)];

    private async Task<string> ToDoAsync()
        => string.Join(" ", (await _room.Owner.GetAsync("/api/now", Stop))["toDo"]!.AsArray().Select(one => (string?)one!["what"]));

    /// <summary>The words at a field of a refused form.</summary>
    private async Task<string> RefusedAsync(string field, JsonObject body, string path = "/api/clutches")
    {
        (HttpStatusCode status, string? media, string text) = await _room.Owner.TryAsync(HttpMethod.Post, path, body, Stop);
        Assert.True(status == HttpStatusCode.BadRequest && media == "application/problem+json", $"{(int)status} {media}: {text}");
        JsonNode? words = JsonNode.Parse(text)!["errors"]![field];
        Assert.True(words is not null, $"Nothing is said at {field}: {text}");
        return string.Join(" ", words.AsArray().Select(one => (string?)one));
    }
}
