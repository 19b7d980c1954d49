using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Incubation.Service.Hosting;
using Incubation.Service.People;
using Incubation.Service.Tests.Hosting;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace Incubation.Service.Tests.People;

public sealed class SessionTests
{
    private static readonly Uri Session = new("/api/session", UriKind.Relative);

    [Fact]
    public async Task Claim_makes_the_owner_and_signs_in_with_a_guarded_cookie()
    {
        await using RunningService service = await RunningService.StartAsync();
        using HttpClient browser = service.Browser();
        Assert.Equal("unclaimed", await StateAsync(browser));
        string code = service.Services.GetRequiredService<ClaimCode>().Shown;
        using HttpResponseMessage answer = await PostAsync(browser, "/api/claim", new { code, name = "Ada", password = "quiet warm egg room" });
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        string cookie = Assert.Single(answer.Headers.GetValues("Set-Cookie"));
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=lax", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Equal("signed in", await StateAsync(browser));
        using HttpClient stranger = service.Browser();
        Assert.Equal("signed out", await StateAsync(stranger));
    }

    [Fact]
    public async Task Claim_a_second_time_is_a_conflict()
    {
        await using RunningService service = await RunningService.StartAsync();
        using HttpClient browser = await service.ClaimedAsync();
        string code = service.Services.GetRequiredService<ClaimCode>().Shown;
        using HttpResponseMessage again = await PostAsync(browser, "/api/claim", new { code, name = "Eve", password = "quiet warm egg room" });
        Assert.Equal(HttpStatusCode.Conflict, again.StatusCode);
    }

    [Theory]
    [InlineData("code", "WRONG-CODE2", "Ada", "quiet warm egg room")]
    [InlineData("name", null, " ", "quiet warm egg room")]
    [InlineData("name", null, null, "quiet warm egg room")]
    [InlineData("password", null, "Ada", "short")]
    [InlineData("password", null, "Ada", null)]
    public async Task Claim_with_a_wrong_field_names_it(string field, string? code, string? name, string? password)
    {
        await using RunningService service = await RunningService.StartAsync();
        using HttpClient browser = service.Browser();
        code ??= service.Services.GetRequiredService<ClaimCode>().Shown;
        using HttpResponseMessage answer = await PostAsync(browser, "/api/claim", new { code, name, password });
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
        Assert.True((await JsonAsync(answer)).GetProperty("errors").TryGetProperty(field, out _));
        Assert.Equal("unclaimed", await StateAsync(browser));
    }

    [Fact]
    public async Task SignIn_and_out_begin_and_end_a_session()
    {
        await using RunningService service = await RunningService.StartAsync();
        using HttpClient owner = await service.ClaimedAsync();
        using HttpClient phone = service.Browser();
        using HttpResponseMessage answer = await PostAsync(phone, "/api/session", new { name = "ada", password = "quiet warm egg room" });
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Equal("signed in", await StateAsync(phone));
        using HttpResponseMessage gone = await phone.DeleteAsync(Session, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.NoContent, gone.StatusCode);
        Assert.Equal("signed out", await StateAsync(phone));
        Assert.Equal("signed in", await StateAsync(owner));
    }

    [Fact]
    public async Task SignIn_wrongly_six_times_has_to_wait()
    {
        await using RunningService service = await RunningService.StartAsync();
        using HttpClient owner = await service.ClaimedAsync();
        for (int i = 0; i < SignInThrottle.MostPerName; i++)
        {
            using HttpResponseMessage wrong = await PostAsync(owner, "/api/session", new { name = "Ada", password = "not the password" });
            Assert.Equal(HttpStatusCode.Unauthorized, wrong.StatusCode);
        }

        using HttpResponseMessage held = await PostAsync(owner, "/api/session", new { name = "Ada", password = "quiet warm egg room" });
        Assert.Equal(HttpStatusCode.TooManyRequests, held.StatusCode);
        Assert.InRange(held.Headers.RetryAfter!.Delta!.Value, TimeSpan.FromSeconds(1), SignInThrottle.Window);
    }

    [Fact]
    public async Task Session_and_claim_survive_a_restart_on_the_same_data()
    {
        DirectoryInfo directory = Directory.CreateTempSubdirectory("incubation-test-");
        var settings = new Dictionary<string, string?> { ["Incubation:DataDirectory"] = directory.FullName };
        string cookie;
        await using (RunningService first = await RunningService.StartAsync(settings: settings))
        {
            string code = first.Services.GetRequiredService<ClaimCode>().Shown;
            using HttpClient browser = first.Browser();
            using HttpResponseMessage answer = await PostAsync(browser, "/api/claim", new { code, name = "Ada", password = "quiet warm egg room" });
            cookie = answer.Headers.GetValues("Set-Cookie").Single().Split(';')[0];
            if (!OperatingSystem.IsWindows())
            {
                Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute, File.GetUnixFileMode(Path.Combine(directory.FullName, "keys")));
            }
        }

        await using RunningService second = await RunningService.StartAsync(settings: settings);
        using HttpClient same = second.Browser(host: "127.0.0.1");
        same.DefaultRequestHeaders.Add("Cookie", cookie);
        Assert.Equal("signed in", await StateAsync(same));
        await Tidy.AwayAsync(directory.FullName);
    }

    [Fact]
    public async Task Demo_signs_in_by_itself_on_this_machine_but_not_under_another_host_name()
    {
        await using RunningService service = await RunningService.StartAsync(demo: true);
        using HttpClient browser = service.Browser();
        JsonElement session = await browser.GetFromJsonAsync<JsonElement>(Session, TestContext.Current.CancellationToken);
        Assert.Equal(("signed in", true), (session.GetProperty("state").GetString(), session.GetProperty("demo").GetBoolean()));
        using var request = new HttpRequestMessage(HttpMethod.Get, Session) { Headers = { Host = "rebound.example" } };
        using HttpResponseMessage answer = await browser.SendAsync(request, TestContext.Current.CancellationToken);
        Assert.Equal("signed out", (await JsonAsync(answer)).GetProperty("state").GetString());
    }

    [Fact]
    public async Task Serve_never_signs_in_by_itself()
    {
        await using RunningService service = await RunningService.StartAsync();
        using HttpClient browser = service.Browser();
        using HttpResponseMessage answer = await browser.GetAsync(new Uri("/api/now", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.Unauthorized, answer.StatusCode);
        Assert.False(service.Services.GetRequiredService<RunMode>().Demo);
    }

    private static Task<HttpResponseMessage> PostAsync(HttpClient browser, string path, object body)
        => browser.PostAsJsonAsync(path, body, TestContext.Current.CancellationToken);

    private static async Task<string?> StateAsync(HttpClient browser)
        => (await browser.GetFromJsonAsync<JsonElement>(Session, TestContext.Current.CancellationToken)).GetProperty("state").GetString();

    private static async Task<JsonElement> JsonAsync(HttpResponseMessage answer)
        => await answer.Content.ReadFromJsonAsync<JsonElement>(TestContext.Current.CancellationToken);
}
