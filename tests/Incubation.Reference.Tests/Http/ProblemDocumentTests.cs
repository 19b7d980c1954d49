using System.Net;
using System.Text;
using System.Text.Json;
using Incubation.Reference.Tests.Sources;
using Incubation.Service.Hosting;
using Microsoft.AspNetCore.Builder;
using Microsoft.Data.Sqlite;
using Xunit;

namespace Incubation.Reference.Tests.Http;

/// <summary>Refusals of the real service on a free port.</summary>
public sealed class ProblemDocumentTests
{
    [Theory]
    [InlineData("GET", "/api/now", null, 401)]
    [InlineData("GET", "/api/nothing", null, 401, 404)]
    [InlineData("POST", "/api/session", "{\"name\":", 400)]
    [InlineData("POST", "/api/claim", "{}", 400)]
    [InlineData("PATCH", "/api/session", "{}", 405, 401)]
    [Source("Nottingham, M., Wilde, E. and Dalal, S.", 2023, "RFC 9457: Problem Details for HTTP APIs",
        "section 3 (media type application/problem+json), 3.1 (members type, status, title, detail; status is that of the answer; type is a URI reference), 3.2 (extension members)")]
    public async Task A_refusal_is_a_problem_document(string method, string path, string? body, int status, int orStatus = 0)
    {
        DirectoryInfo data = Directory.CreateTempSubdirectory("incubation-test-");
        Dictionary<string, string?> settings = new()
        {
            ["Incubation:DataDirectory"] = data.FullName,
            ["Incubation:Http:Port"] = "0",
            ["Incubation:Mqtt:Port"] = "0",
        };
        await using (WebApplication app = ServiceHost.Build(new RunMode(), settings))
        {
            await app.StartAsync(TestContext.Current.CancellationToken);
            using var client = new HttpClient { BaseAddress = new Uri(app.Urls.First()) };
            using var request = new HttpRequestMessage(new HttpMethod(method), path);
            request.Headers.Add("Sec-Fetch-Site", "same-origin");
            request.Content = body is null ? null : new StringContent(body, Encoding.UTF8, "application/json");
            using HttpResponseMessage answer = await client.SendAsync(request, TestContext.Current.CancellationToken);
            Assert.Contains(answer.StatusCode, new[] { (HttpStatusCode)status, (HttpStatusCode)orStatus });
            Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
            JsonElement problem = JsonDocument.Parse(await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken)).RootElement;
            Assert.Equal((int)answer.StatusCode, problem.GetProperty("status").GetInt32());
            Assert.True(Uri.IsWellFormedUriString(problem.GetProperty("type").GetString(), UriKind.RelativeOrAbsolute));
            Assert.All((string[])["title", "detail"], member => Assert.NotEmpty(problem.GetProperty(member).GetString()!));
            Assert.Equal(status == 400, problem.TryGetProperty("errors", out JsonElement errors) && errors.EnumerateObject().Any());
        }

        SqliteConnection.ClearAllPools();
        data.Delete(recursive: true);
    }
}
