using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Incubation.Service.Tests.Hosting;
using MimeKit;
using Xunit;

namespace Incubation.Service.Tests.Calling;

public sealed class CallTestTests
{
    [Fact]
    public async Task A_test_is_marked_in_mail_and_webhook_and_its_link_proves_that_it_was_seen()
    {
        await using HookReceiver hook = await HookReceiver.StartAsync();
        await using MailReceiver mail = MailReceiver.Start();
        await using NightHouse house = await NightHouse.StartAsync(mail.Settings());
        await house.OrderAsync(NightHouse.Hook("Bo", hook.Address), NightHouse.Mail("Cy", "cy@example.org"));
        JsonElement steps = (await house.GetAsync("/api/call-out")).GetProperty("steps");

        JsonElement byHook = await house.PostAsync("/api/call-out/tests", new { step = steps[0].GetProperty("id").GetGuid() });
        Assert.True(byHook.GetProperty("delivered").GetBoolean());
        Post post = await hook.PostAsync(0);
        Assert.Equal("test", post.Json.GetProperty("type").GetString());
        Assert.Contains("test", post.Data.GetProperty("words").GetString()!, StringComparison.Ordinal);
        Assert.True(post.IsSigned(NightHouse.Secret));

        JsonElement byMail = await house.PostAsync("/api/call-out/tests", new { step = steps[1].GetProperty("id").GetGuid() });
        MimeMessage message = await mail.MailAsync(0);
        Assert.StartsWith("Test", message.Subject, StringComparison.Ordinal);
        string path = new Uri(message.TextBody!.Split('\n').Single(l => l.Contains("/answer/", StringComparison.Ordinal)).Trim()).AbsolutePath;

        using HttpClient phone = house.Service.Browser(site: null);
        Assert.Contains("This is a test", await phone.GetStringAsync(new Uri(path, UriKind.Relative), NightHouse.Stop), StringComparison.Ordinal);
        Assert.False((await StateAsync(house, byMail)).GetProperty("answered").GetBoolean());
        using HttpResponseMessage pressed = await phone.PostAsync(new Uri(path, UriKind.Relative), null, NightHouse.Stop);
        Assert.Contains("The test has arrived", await pressed.Content.ReadAsStringAsync(NightHouse.Stop), StringComparison.Ordinal);

        JsonElement state = await StateAsync(house, byMail);
        Assert.True(state.GetProperty("answered").GetBoolean());
        Assert.Equal("Cy has seen the test.", state.GetProperty("words").GetString());
        Assert.NotEqual(JsonValueKind.Null, state.GetProperty("answeredAt").ValueKind);
        Assert.False((await StateAsync(house, byHook)).GetProperty("answered").GetBoolean());
        Assert.Equal(["test answered", "test called", "test called"], (await house.JournalAsync()).Select(l => l.Event).Where(e => e.StartsWith("test", StringComparison.Ordinal)));
        Assert.Empty((await house.GetAsync("/api/alarms")).EnumerateArray());
    }

    [Fact]
    public async Task A_test_that_fails_says_why_and_is_seen_on_the_first_screen_until_one_succeeds()
    {
        await using HookReceiver hook = await HookReceiver.StartAsync();
        hook.Status(410);
        await using NightHouse house = await NightHouse.StartAsync();
        await house.OrderAsync(NightHouse.Hook("Bo", hook.Address));
        Guid step = (await house.GetAsync("/api/call-out")).GetProperty("steps")[0].GetProperty("id").GetGuid();
        JsonElement failed = await house.PostAsync("/api/call-out/tests", new { step });
        Assert.False(failed.GetProperty("delivered").GetBoolean());
        Assert.Contains("410", failed.GetProperty("words").GetString()!, StringComparison.Ordinal);
        JsonElement now = await house.GetAsync("/api/now");
        Assert.Contains("Bo could not be reached", now.GetProperty("headline").GetProperty("next").GetString()!, StringComparison.Ordinal);

        hook.Status(200);
        await house.PostAsync("/api/call-out/tests", new { step });
        now = await house.GetAsync("/api/now");
        Assert.Equal("calm", now.GetProperty("headline").GetProperty("tone").GetString());
        Assert.True(now.GetProperty("callOut").GetProperty("reachable").GetBoolean());
    }

    [Fact]
    public async Task A_test_of_nothing_is_refused()
    {
        await using RunningService service = await RunningService.StartAsync();
        using HttpClient keeper = await service.ClaimedAsync();
        using HttpResponseMessage none = await keeper.PostAsJsonAsync("/api/call-out/tests", new { }, NightHouse.Stop);
        using HttpResponseMessage unknown = await keeper.PostAsJsonAsync("/api/call-out/tests", new { step = Guid.NewGuid() }, NightHouse.Stop);
        using HttpResponseMessage state = await keeper.GetAsync(new Uri($"/api/call-out/tests/{Guid.NewGuid()}", UriKind.Relative), NightHouse.Stop);
        Assert.Equal((HttpStatusCode.BadRequest, HttpStatusCode.NotFound, HttpStatusCode.NotFound), (none.StatusCode, unknown.StatusCode, state.StatusCode));
    }

    private static Task<JsonElement> StateAsync(NightHouse house, JsonElement test)
        => house.GetAsync($"/api/call-out/tests/{test.GetProperty("id").GetGuid()}");
}
