using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Incubation.EndToEnd.Tests.Instruments;
using Microsoft.Playwright;
using Xunit;

namespace Incubation.EndToEnd.Tests.FirstNight;

/// <summary>
/// From an empty start to a clutch that is watched, candled and forecast, on a phone, by touch alone. What is done beside the phone is
/// what happens beside a phone: a probe speaks, a mail comes and the link in it is pressed.
/// </summary>
public sealed partial class FirstNightTests(ITestOutputHelper output)
{
    private const int Width = 390;
    private const int Height = 844;

    /// <summary>Touches from the claim to "watched over", those into fields among them.</summary>
    private const int NightTaps = 13;

    /// <summary>Touches from "watched over" to the clutch being entered and placed.</summary>
    private const int ClutchTaps = 14;

    /// <summary>Touches for each egg under the lamp: tint, veins, slug or not, the next egg.</summary>
    private const int TapsForAnEgg = 4;

    private const int Eggs = 6;
    private const int Day = 9;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    [Fact(Timeout = 120_000)]
    public async Task From_an_empty_start_to_a_watched_candled_and_forecast_clutch_by_touch_alone()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        await using MailReceiver mail = new();
        ServiceSetup setup = new();
        mail.Settle(setup);
        await using ServiceProcess service = await ServiceProcess.StartAsync(setup, stop);
        await using Browser browser = await Browser.OpenAsync();
        IPage page = await browser.PageAsync((Width, Height), service.Address);
        Thumb thumb = new(page, Height, output.WriteLine);

        await ClaimAsync(thumb, service);
        await WatchAsync(thumb, service);
        await CallAsync(thumb, browser, service, mail);
        int night = thumb.Taps;
        output.WriteLine($"watched over: {thumb.Sum}");
        using ServiceClient api = new(service.Address);
        await api.SignInAsync(stop);
        await HoldWatchedAsync(api);

        await EnterAsync(thumb);
        int clutch = thumb.Taps - night;
        await CandleAsync(thumb);
        int candling = thumb.Taps - night - clutch;
        await HoldForecastShownAsync(thumb);
        output.WriteLine($"candled and forecast: {thumb.Sum}; night {night}, clutch {clutch}, candling {candling} taps; the smallest thing touched: "
            + string.Create(CultureInfo.InvariantCulture, $"{thumb.Smallest.Size:0} px ({thumb.Smallest.What})"));
        await HoldClutchAsync(api);

        Assert.True(night <= NightTaps, $"The night took {night} taps.");
        Assert.True(clutch <= ClutchTaps, $"The clutch took {clutch} taps.");
        // One more to begin.
        Assert.True(candling <= (Eggs * TapsForAnEgg) + 1, $"The candling took {candling} taps.");
        // WCAG 2.2, 2.5.5 (AAA): 44 CSS px.
        Assert.True(thumb.Smallest.Size >= 44, $"\"{thumb.Smallest.What}\" is only {thumb.Smallest.Size:0} px.");
    }

    private static async Task ClaimAsync(Thumb thumb, ServiceProcess service)
    {
        await thumb.Page.GotoAsync("/");
        await thumb.SeesAsync("Is this facility yours?");
        await LookAsync(thumb, "1-claim");
        await thumb.TypeAsync("The code from the log", await service.ClaimCodeAsync(Stop), secret: true);
        await thumb.TypeAsync("Your name, as others see it when you answer", ServiceClient.Owner);
        await thumb.TypeAsync("A password", ServiceClient.Password, secret: true);
        await thumb.PressAsync("It is mine");
    }

    private static async Task WatchAsync(Thumb thumb, ServiceProcess service)
    {
        await thumb.SeesAsync("What do you call your incubator?");
        await LookAsync(thumb, "2-incubator");
        await thumb.TypeAsync("Its name", "Hazel");
        await thumb.PressAsync("That is its name");

        await thumb.SeesAsync("Now switch your probe on.");
        await LookAsync(thumb, "3-probe");
        // The probe is set up with what the page says.
        string topic = await thumb.Page.Locator("dt:has-text('Topic') + dd code").InnerTextAsync();
        await new Mosquitto(service.MqttPort).PublishAsync(topic, "31.4", Stop);
        thumb.Beside($"a probe speaks on {topic}");
        await thumb.SeesAsync("hazel-1 is heard. Where is it?");
        await LookAsync(thumb, "4-placed");
        await thumb.PressAsync("It is there, in Hazel");

        await thumb.SeesAsync("Whose eggs will lie in Hazel?");
        await thumb.ChooseAsync("Python regius");
        await LookAsync(thumb, "5-band");
        await thumb.PressAsync("Watch it by this band");
        await thumb.SeesAsync("Have eggs been laid already?");
        await LookAsync(thumb, "6-clutch");
        await thumb.PressAsync("Not yet");
    }

    private static async Task CallAsync(Thumb thumb, Browser browser, ServiceProcess service, MailReceiver mail)
    {
        await thumb.SeesAsync("Who is called when it goes wrong?");
        await LookAsync(thumb, "7-call");
        await thumb.TypeAsync("Mail address", "ines@egg-room.example");
        await thumb.PressAsync("Call this one first");
        await thumb.SeesAsync($"Will {ServiceClient.Owner} hear it?");
        await thumb.PressAsync($"Send {ServiceClient.Owner} a test");
        await thumb.SeesAsync($"Has it come, {ServiceClient.Owner}?");
        await LookAsync(thumb, "8-test");

        string link = await Waiting.ForAsync(() => mail.Mails.Select(m => Link().Match(m.Text)).FirstOrDefault(m => m.Success)?.Value,
            TimeSpan.FromSeconds(20), "the mail of the test", Stop);
        IPage other = await browser.PageAsync((Width, Height), service.Address);
        await other.GotoAsync(link);
        await Browser.PictureAsync(other, "first-night-9-mail");
        await other.GetByRole(AriaRole.Button).TapAsync();
        thumb.Beside("the mail has come; its link is opened and its one button tapped, on another page");
        await thumb.SeesAsync("Hazel is watched over.");
        await LookAsync(thumb, "10-watched");
    }

    private static async Task EnterAsync(Thumb thumb)
    {
        await thumb.FollowAsync("Enter one");
        await thumb.SeesAsync("Whose eggs are they?");
        // The species of the band is asked no second time.
        await Assertions.Expect(thumb.Page.GetByRole(AriaRole.Radio, new PageGetByRoleOptions { NameRegex = BallPython() })).ToBeCheckedAsync();
        await thumb.TypeAsync("Dam", "Juno");
        await thumb.TypeAsync("His name", "Pike");
        await LookAsync(thumb, "11-parents");
        await thumb.PressAsync("Next");

        await thumb.SeesAsync("When were they laid, and how many?");
        await thumb.TypeAsync("or on another day", LaidOn.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        await thumb.TypeAsync("Eggs, slugs counted too", Eggs.ToString(CultureInfo.InvariantCulture));
        await LookAsync(thumb, "12-laid");
        await thumb.PressAsync("Next");

        await thumb.SeesAsync("How warm have they been?");
        await thumb.TypeAsync("They lay, as far as you know, at", "31");
        await LookAsync(thumb, "13-warmth");
        await thumb.PressAsync("Next");

        await thumb.SeesAsync("Where do they lie now?");
        await thumb.TypeAsync("What is written on the tub", "Tub 1");
        await thumb.ChooseAsync("vermiculite");
        await LookAsync(thumb, "14-tub");
        await thumb.PressAsync("Next");

        await thumb.SeesAsync("Is it so?");
        await LookAsync(thumb, "15-check");
        await thumb.PressAsync("Enter the clutch");
        await thumb.SeesAsync(string.Create(CultureInfo.InvariantCulture, $"C-01 is entered: {Eggs} eggs, day {Day}."));
        await LookAsync(thumb, "16-entered");
        await thumb.FollowAsync("Lay out its eggs");
    }

    private static async Task CandleAsync(Thumb thumb)
    {
        await thumb.PressAsync("Candle them, egg 1 first");
        for (int egg = 1; egg <= Eggs; egg++)
        {
            await thumb.Page.GetByRole(AriaRole.Heading, new PageGetByRoleOptions { NameRegex = new Regex($"^Egg {egg}\\b") }).WaitForAsync();
            bool slug = egg == Eggs;
            await thumb.ChipAsync("Tint", slug ? "yellow" : egg % 2 == 0 ? "peach" : "pink");
            await thumb.ChipAsync("Veins", slug ? "none" : "spreading");
            await thumb.ChipAsync("Looks like a slug", slug ? "yes" : "no");
            if (egg == 2)
            {
                await LookAsync(thumb, "17-candling");
            }

            await thumb.PressAsync(slug ? "Save, all are done" : $"Next egg, {egg + 1}");
        }

        await Assertions.Expect(thumb.Page.GetByText("Every egg has been looked at in this round.")).ToBeVisibleAsync();
    }

    private static async Task HoldForecastShownAsync(Thumb thumb)
    {
        ILocator forecast = thumb.Page.GetByRole(AriaRole.Region, new PageGetByRoleOptions { Name = "When it will pip" });
        await forecast.WaitForAsync();
        string words = await forecast.Locator(".lead").InnerTextAsync();
        thumb.Beside(words);
        Assert.Matches(WindowWords(), words);
        await LookAsync(thumb, "18-forecast");
    }

    private static async Task HoldWatchedAsync(ServiceClient api)
    {
        JsonNode incubator = Assert.Single((await api.GetAsync("/api/incubators", Stop)).AsArray())!;
        JsonNode view = await api.GetAsync($"/api/incubators/{(string)incubator["key"]!}", Stop);
        Assert.Equal("hazel-1", (string?)Assert.Single(view["probes"]!.AsArray())!["key"]);
        JsonNode species = (await api.GetAsync("/api/species", Stop)).AsArray().First(one => (string?)one!["key"] == "python-regius")!;
        foreach (string limit in (string[])["dangerLow", "warningLow", "warningHigh", "dangerHigh"])
        {
            Assert.Equal((double?)species["band"]!["temperature"]![limit], (double?)view["bands"]!["temperature"]![limit]);
        }

        JsonNode now = await api.GetAsync("/api/now", Stop);
        Assert.Equal("calm", (string?)now["headline"]!["tone"]);
        Assert.True((bool)now["callOut"]!["reachable"]!);
        Assert.Equal("ines@egg-room.example", (string?)Assert.Single((await api.GetAsync("/api/call-out", Stop))["steps"]!.AsArray())!["address"]);
        JsonArray journal = (await api.GetAsync("/api/alarms/journal", Stop)).AsArray();
        Assert.Contains(journal, entry => entry!.ToJsonString().Contains("test answered", StringComparison.Ordinal));
    }

    private static async Task HoldClutchAsync(ServiceClient api)
    {
        JsonNode line = Assert.Single((await api.GetAsync("/api/clutches?state=all", Stop)).AsArray())!;
        Assert.Equal((Day, true, "Hazel", Eggs), ((int)line["day"]!, (bool)line["watched"]!, (string?)line["incubatorName"], (int)line["eggs"]!["laid"]!));
        JsonNode page = await Waiting.ForAsync(async () => await api.GetAsync($"/api/clutches/{(string)line["key"]!}", Stop) is { } found
                && found["eggs"]!.AsArray().All(egg => (int)egg!["entries"]! == 1) ? found : null,
            TimeSpan.FromSeconds(10), "one entry of each egg", Stop);
        Assert.Equal(Eggs, page["eggs"]!.AsArray().Count);
        Assert.All(page["eggs"]!.AsArray().Take(Eggs - 1), egg => Assert.Equal("developing", (string?)egg!["status"]));
        Assert.Equal("slug", (string?)page["eggs"]![Eggs - 1]!["status"]);
        Assert.All(page["eggs"]!.AsArray(), egg => Assert.Single(egg!["restsOn"]!.AsArray()));
        JsonArray entries = (await api.GetAsync($"/api/clutches/{(string)line["key"]!}/candlings", Stop)).AsArray();
        Assert.Equal(Eggs, entries.Count);
        Assert.All(entries, entry => Assert.Equal(ServiceClient.Owner, (string?)entry!["by"]));
        JsonNode forecast = page["forecast"]!;
        DateTimeOffset[] window = [.. ((string[])["p10", "p50", "p90"]).Select(p => DateTimeOffset.Parse((string)forecast[p]!, CultureInfo.InvariantCulture))];
        Assert.True(window[0] < window[1] && window[1] < window[2], forecast.ToJsonString());
        Assert.InRange((window[1] - TimeProvider.System.GetUtcNow()).TotalDays, 20, 80);
        Assert.False(string.IsNullOrWhiteSpace((string?)forecast["assumedAhead"]));
    }

    /// <summary>Every screen on the way fits the phone, is accessible, and is kept as a picture.</summary>
    private static async Task LookAsync(Thumb thumb, string name)
    {
        await Browser.PictureAsync(thumb.Page, "first-night-" + name);
        await Browser.HoldFittingAsync(thumb.Page, name);
        await Browser.HoldAccessibleAsync(thumb.Page, name);
    }

    // The facility of the test lies in UTC, as every new one does.
    private static DateTimeOffset LaidOn => TimeProvider.System.GetUtcNow().AddDays(-Day);

    [GeneratedRegex(@"https?://[^\s""<>]+/answer/[A-Za-z0-9_\-]+")]
    private static partial Regex Link();

    [GeneratedRegex("Python regius")]
    private static partial Regex BallPython();

    /// <summary>Two different days at least: a window, not a promise.</summary>
    [GeneratedRegex(@"\d+.*\d+")]
    private static partial Regex WindowWords();
}
