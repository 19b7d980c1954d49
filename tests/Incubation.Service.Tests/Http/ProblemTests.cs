using System.Net;
using System.Text;
using System.Text.Json;
using Incubation.Core;
using Incubation.Service.Tests.Hosting;
using Xunit;

namespace Incubation.Service.Tests.Http;

/// <summary>
/// M. Nottingham, E. Wilde, S. Dalal, "Problem Details for HTTP APIs", RFC 9457 (2023): media type in section 3, members type, title,
/// status and detail in 3.1, and 3.1.2: the member status is the status of the answer.
/// </summary>
public sealed class ProblemTests
{
    [Theory]
    [InlineData("GET", "/api/nothing", null, null, 404, "/problems/not-found")]
    [InlineData("PATCH", "/api/session", null, null, 405, "/problems/wrong-method")]
    [InlineData("POST", "/api/session", "text/plain", "hello", 415, "/problems/wrong-media-type")]
    [InlineData("POST", "/api/session", "application/json", "{\"name\":", 400, "/problems/invalid")]
    [InlineData("POST", "/api/session", "application/json", "", 400, "/problems/invalid")]
    [InlineData("POST", "/api/session", "application/json", "{\"name\":7,\"password\":\"x\"}", 400, "/problems/invalid")]
    [InlineData("POST", "/api/session", "application/json", "{}", 400, "/problems/invalid")]
    [InlineData("POST", "/api/claim", "application/json", "{}", 400, "/problems/invalid")]
    [InlineData("GET", "/api/now?temperature=K", null, null, 400, "/problems/invalid")]
    public async Task Refusals_are_problem_documents(string method, string path, string? mediaType, string? body, int status, string type)
    {
        await using RunningService service = await RunningService.StartAsync(demo: true, also: FirstScreen.Doubles.Add);
        using HttpClient browser = service.Browser();
        using var request = new HttpRequestMessage(new HttpMethod(method), path);
        if (body is not null)
        {
            request.Content = new StringContent(body, Encoding.UTF8, mediaType!);
        }

        using HttpResponseMessage answer = await browser.SendAsync(request, TestContext.Current.CancellationToken);
        JsonElement problem = await AssertProblemAsync(answer, status);
        Assert.Equal(type, problem.GetProperty("type").GetString());
    }

    [Fact]
    public async Task Wrong_kind_of_value_names_the_field()
    {
        await using RunningService service = await RunningService.StartAsync();
        using HttpClient browser = service.Browser();
        using var content = new StringContent("{\"name\":7,\"password\":\"x\"}", Encoding.UTF8, "application/json");
        using HttpResponseMessage answer = await browser.PostAsync(new Uri("/api/session", UriKind.Relative), content, TestContext.Current.CancellationToken);
        Assert.True((await AssertProblemAsync(answer, 400)).GetProperty("errors").TryGetProperty("name", out _));
    }

    [Fact]
    public async Task Body_over_the_limit_is_413()
    {
        await using RunningService service = await RunningService.StartAsync();
        using HttpClient browser = service.Browser();
        using var content = new StringContent($"{{\"name\":\"{new string('a', Limits.RequestBodyBytes)}\"}}", Encoding.UTF8, "application/json");
        using HttpResponseMessage answer = await browser.PostAsync(new Uri("/api/session", UriKind.Relative), content, TestContext.Current.CancellationToken);
        await AssertProblemAsync(answer, 413);
    }

    [Fact]
    public async Task Stranger_is_told_401_and_never_sent_elsewhere()
    {
        await using RunningService service = await RunningService.StartAsync();
        using HttpClient stranger = service.Browser();
        stranger.DefaultRequestHeaders.Add("Accept", "text/html");
        using HttpResponseMessage answer = await stranger.GetAsync(new Uri("/api/now", UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Null(answer.Headers.Location);
        await AssertProblemAsync(answer, 401);
    }

    [Fact]
    public async Task Failure_inside_says_nothing_about_the_inside()
    {
        await using RunningService service = await RunningService.StartAsync(demo: true, also: FirstScreen.Doubles.AddBroken);
        using HttpClient browser = service.Browser();
        using HttpResponseMessage answer = await browser.GetAsync(new Uri("/api/now", UriKind.Relative), TestContext.Current.CancellationToken);
        JsonElement problem = await AssertProblemAsync(answer, 500);
        Assert.DoesNotContain("broken on purpose", problem.GetRawText(), StringComparison.Ordinal);
    }

    private static async Task<JsonElement> AssertProblemAsync(HttpResponseMessage answer, int status)
    {
        string body = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.True((HttpStatusCode)status == answer.StatusCode, $"{answer.StatusCode}: {body}");
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
        JsonElement problem = JsonDocument.Parse(body).RootElement;
        Assert.Equal(status, problem.GetProperty("status").GetInt32());
        Assert.All((string[])["type", "title", "detail"], member => Assert.NotEmpty(problem.GetProperty(member).GetString()!));
        return problem;
    }
}
