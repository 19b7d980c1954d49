using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using Incubation.Core.Alarms;
using Incubation.Service.Alarms;
using Incubation.Service.Calling;
using Incubation.Service.Tests.Hosting;
using Xunit;

namespace Incubation.Service.Tests.Calling;

/// <summary>The page behind an answer link, over real HTTP, as a mail program on a phone would open it.</summary>
public sealed partial class AnswerPageTests
{
    [Fact]
    public async Task Looking_answers_nothing_and_pressing_answers_as_the_person_named()
    {
        await using HookReceiver hook = await HookReceiver.StartAsync();
        await using NightHouse house = await NightHouse.StartAsync();
        await house.OrderAsync(NightHouse.Hook("Bo", hook.Address), NightHouse.Hook("Cy", hook.Address));
        await house.DriftAsync();
        Post[] posts = [await hook.PostAsync(0), await hook.PostAsync(1)];
        // Which of the two came first is the network's choice: the page itself says for whom it is.
        using HttpClient phone = Phone(house);
        string first = await phone.GetStringAsync(new Uri(posts[0].AnswerPath, UriKind.Relative), NightHouse.Stop);
        (string bo, string cy) = first.Contains("You answer as Bo", StringComparison.Ordinal)
            ? (posts[0].AnswerPath, posts[1].AnswerPath) : (posts[1].AnswerPath, posts[0].AnswerPath);
        for (int i = 0; i < 10; i++)
        {
            using HttpResponseMessage shown = await phone.GetAsync(new Uri(bo, UriKind.Relative), NightHouse.Stop);
            AssertHeaders(shown, HttpStatusCode.OK);
            Assert.Contains("Nobody has answered yet", await shown.Content.ReadAsStringAsync(NightHouse.Stop), StringComparison.Ordinal);
            using HttpResponseMessage head = await phone.SendAsync(new HttpRequestMessage(HttpMethod.Head, bo), NightHouse.Stop);
            AssertHeaders(head, HttpStatusCode.OK);
        }

        Assert.Equal(AlarmState.Unacknowledged, house.Get<IAlarmDesk>().Standing().Single().State);
        using HttpResponseMessage pressed = await phone.PostAsync(new Uri(bo, UriKind.Relative), null, NightHouse.Stop);
        AssertHeaders(pressed, HttpStatusCode.OK);
        Assert.Contains("You are on it", await pressed.Content.ReadAsStringAsync(NightHouse.Stop), StringComparison.Ordinal);
        Assert.Equal("Bo", house.Get<IAlarmDesk>().Standing().Single().AnsweredBy);

        using HttpResponseMessage second = await phone.PostAsync(new Uri(cy, UriKind.Relative), null, NightHouse.Stop);
        string page = await second.Content.ReadAsStringAsync(NightHouse.Stop);
        Assert.Contains("Bo is on it", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<button", page, StringComparison.Ordinal);
        Assert.Equal("Bo", house.Get<IAlarmDesk>().Standing().Single().AnsweredBy);
    }

    [Fact]
    public async Task An_alarm_that_is_over_says_so_kindly_even_after_a_restart()
    {
        await using HookReceiver hook = await HookReceiver.StartAsync();
        DirectoryInfo data = Directory.CreateTempSubdirectory("incubation-test-");
        Dictionary<string, string?> settings = new() { ["Incubation:DataDirectory"] = data.FullName };
        NightHouse house = await NightHouse.StartAsync(settings);
        await house.OrderAsync(NightHouse.Hook("Bo", hook.Address));
        await house.DriftAsync();
        string path = (await hook.PostAsync(0)).AnswerPath;
        using (HttpClient phone = Phone(house))
        {
            await (await phone.PostAsync(new Uri(path, UriKind.Relative), null, NightHouse.Stop)).Content.ReadAsStringAsync(NightHouse.Stop);
            house.ComeBack();
            await Eventually.TrueAsync(() => house.Get<IAlarmDesk>().Standing().Count == 0, "the end of the alarm");
            await AssertOverAsync(phone, path);
        }

        await house.WrittenAsync();
        await house.DisposeAsync();
        await using (NightHouse again = await NightHouse.StartAsync(settings, time: house.Time))
        {
            using HttpClient phone = Phone(again);
            await AssertOverAsync(phone, path);
        }

        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        await Tidy.AwayAsync(data.FullName);
    }

    [Fact]
    public async Task An_alarm_that_came_back_by_itself_asks_only_whether_it_was_seen()
    {
        await using HookReceiver hook = await HookReceiver.StartAsync();
        await using NightHouse house = await NightHouse.StartAsync();
        await house.OrderAsync(NightHouse.Hook("Bo", hook.Address, repeat: 0));
        await house.DriftAsync();
        string path = (await hook.PostAsync(0)).AnswerPath;
        house.ComeBack();
        Post back = await hook.PostAsync(1);
        Assert.Equal("alarm.returned", back.Json.GetProperty("type").GetString());
        using HttpClient phone = Phone(house);
        Assert.Contains("I have seen it", await phone.GetStringAsync(new Uri(path, UriKind.Relative), NightHouse.Stop), StringComparison.Ordinal);
        using HttpResponseMessage pressed = await phone.PostAsync(new Uri(path, UriKind.Relative), null, NightHouse.Stop);
        Assert.Contains("Thank you", await pressed.Content.ReadAsStringAsync(NightHouse.Stop), StringComparison.Ordinal);
        Assert.Empty(house.Get<IAlarmDesk>().Standing());
    }

    [Theory]
    [InlineData("/answer/x")]
    [InlineData("/answer/AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA")]
    [InlineData("/answer/%3Cscript%3Ealert(1)%3C%2Fscript%3E")]
    public async Task A_link_that_is_not_known_is_a_page_that_says_so(string path)
    {
        await using RunningService service = await RunningService.StartAsync();
        using HttpClient phone = service.Browser(site: null);
        using HttpResponseMessage get = await phone.GetAsync(new Uri(path, UriKind.Relative), NightHouse.Stop);
        using HttpResponseMessage post = await phone.PostAsync(new Uri(path, UriKind.Relative), null, NightHouse.Stop);
        AssertHeaders(get, HttpStatusCode.NotFound);
        AssertHeaders(post, HttpStatusCode.NotFound);
        string page = await get.Content.ReadAsStringAsync(NightHouse.Stop);
        Assert.Contains("This link is not known", page, StringComparison.Ordinal);
        Assert.DoesNotContain("script", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Hostile_names_stay_text()
    {
        await using HookReceiver hook = await HookReceiver.StartAsync();
        await using NightHouse house = await NightHouse.StartAsync(name: "<script>alert(1)</script> & \"Tom's\"");
        await house.OrderAsync(NightHouse.Hook("<img src=x onerror=alert(2)>", hook.Address));
        await house.DriftAsync();
        using HttpClient phone = Phone(house);
        string page = await phone.GetStringAsync(new Uri((await hook.PostAsync(0)).AnswerPath, UriKind.Relative), NightHouse.Stop);
        Assert.DoesNotContain("<script", page, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("<img", page, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("&lt;script&gt;alert(1)&lt;/script&gt; &amp; &quot;Tom&#x27;s&quot;", page, StringComparison.Ordinal);
        Assert.Contains("&lt;img src=x onerror=alert(2)&gt;", page, StringComparison.Ordinal);
    }

    /// <summary>Source: W3C, "Web Content Accessibility Guidelines (WCAG) 2.2" (2023), success criterion 1.4.3 (4.5:1), 1.4.11 (3:1), and its definitions of relative luminance and contrast ratio.</summary>
    [Fact]
    public void Colours_of_the_page_have_the_contrast_that_WCAG_asks_for()
    {
        string page = AnswerPage.Html("t", "danger", ["l"], "b");
        (string Front, string Back, double Least)[] pairs =
        [
            ("#f3ece4", "#14110f", 4.5), ("#f0b35a", "#14110f", 4.5), ("#ff8a73", "#14110f", 4.5), ("#c4b8ab", "#14110f", 4.5), ("#14110f", "#f0b35a", 4.5),
        ];
        Assert.Equal(pairs.Select(p => p.Front).Distinct().Order(), Colour().Matches(page).Select(m => m.Value).Distinct().Order());
        Assert.All(pairs, p => Assert.True(Contrast(p.Front, p.Back) >= p.Least, $"{p.Front} on {p.Back}: {Contrast(p.Front, p.Back):0.00}"));
        Assert.Equal(21, Contrast("#ffffff", "#000000"), 9);
    }

    /// <summary>Nothing has a width of its own but the most that it may grow to; the button is as wide as the screen and 72 px high (44 px are asked for).</summary>
    [Fact]
    public void Page_fits_a_screen_of_360_pixels()
    {
        string page = AnswerPage.Html(new string('w', 200), "danger", ["l"], "b");
        Assert.Contains("width=device-width", page, StringComparison.Ordinal);
        Assert.All(Width().Matches(page), m => Assert.Equal("100%", m.Groups[1].Value));
        Assert.Contains("min-height:4.5rem", page, StringComparison.Ordinal);
        Assert.Contains("overflow-wrap:anywhere", page, StringComparison.Ordinal);
    }

    // No cookies, another origin, as the view inside a mail program sends it.
    private static HttpClient Phone(NightHouse house)
    {
        HttpClient phone = house.Service.Browser(site: "cross-site");
        phone.DefaultRequestHeaders.Add("Origin", "null");
        return phone;
    }

    private static async Task AssertOverAsync(HttpClient phone, string path)
    {
        foreach (HttpMethod method in (HttpMethod[])[HttpMethod.Get, HttpMethod.Post])
        {
            using HttpResponseMessage answer = await phone.SendAsync(new HttpRequestMessage(method, path), NightHouse.Stop);
            AssertHeaders(answer, HttpStatusCode.OK);
            string page = await answer.Content.ReadAsStringAsync(NightHouse.Stop);
            Assert.Contains("This alarm is over", page, StringComparison.Ordinal);
            Assert.Contains("Bo answered it", page, StringComparison.Ordinal);
            Assert.DoesNotContain("<button", page, StringComparison.Ordinal);
        }
    }

    private static void AssertHeaders(HttpResponseMessage answer, HttpStatusCode status)
    {
        Assert.Equal(status, answer.StatusCode);
        Assert.Equal("text/html", answer.Content.Headers.ContentType?.MediaType);
        Assert.Equal("no-store", answer.Headers.CacheControl?.ToString());
        Assert.Equal("no-referrer", Header(answer, "Referrer-Policy"));
        Assert.Contains("noindex", Header(answer, "X-Robots-Tag"), StringComparison.Ordinal);
        Assert.Equal("nosniff", Header(answer, "X-Content-Type-Options"));
        string policy = Header(answer, "Content-Security-Policy");
        Assert.StartsWith("default-src 'none'", policy, StringComparison.Ordinal);
        Assert.Contains("frame-ancestors 'none'", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
        Assert.False(answer.Headers.Contains("Set-Cookie"));
    }

    private static string Header(HttpResponseMessage answer, string name) => answer.Headers.GetValues(name).Single();

    private static double Contrast(string a, string b)
    {
        (double one, double two) = (Luminance(a), Luminance(b));
        return (Math.Max(one, two) + 0.05) / (Math.Min(one, two) + 0.05);
    }

    private static double Luminance(string colour)
    {
        double[] linear = [.. Enumerable.Range(0, 3).Select(i => int.Parse(colour.AsSpan(1 + (2 * i), 2), NumberStyles.HexNumber, CultureInfo.InvariantCulture) / 255.0)
            .Select(c => c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4))];
        return (0.2126 * linear[0]) + (0.7152 * linear[1]) + (0.0722 * linear[2]);
    }

    [GeneratedRegex("#[0-9a-f]{6}")]
    private static partial Regex Colour();

    [GeneratedRegex("[;{](?:min-)?width:([^;}]+)")]
    private static partial Regex Width();
}
