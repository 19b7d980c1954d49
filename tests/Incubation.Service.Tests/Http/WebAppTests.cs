using System.Net;
using Incubation.Service.Tests.Hosting;
using Xunit;

namespace Incubation.Service.Tests.Http;

public sealed class WebAppTests : IDisposable
{
    private readonly DirectoryInfo _root = Directory.CreateTempSubdirectory("incubation-web-");

    public WebAppTests()
    {
        Directory.CreateDirectory(Path.Combine(_root.FullName, "assets"));
        File.WriteAllText(Path.Combine(_root.FullName, "index.html"), "<!doctype html><title>app</title>");
        File.WriteAllText(Path.Combine(_root.FullName, "sw.js"), "//");
        File.WriteAllText(Path.Combine(_root.FullName, "assets", "app-1a2b.js"), "//");
    }

    [Theory]
    [InlineData("/", "text/html", 200, "no-cache")]
    [InlineData("/", "*/*", 200, "no-cache")]
    [InlineData("/probes", "text/html", 200, "no-cache")]
    [InlineData("/incubators/hazel", "text/html,*/*", 200, "no-cache")]
    [InlineData("/sw.js", "*/*", 200, "no-cache")]
    [InlineData("/assets/app-1a2b.js", "*/*", 200, "public, max-age=31536000, immutable")]
    [InlineData("/assets/app-gone.js", "*/*", 404, null)]
    [InlineData("/assets/app-gone", "text/html", 404, null)]
    [InlineData("/probes", "application/json", 404, null)]
    [InlineData("/answer/unknown/deeper", "text/html", 404, null)]
    [InlineData("/api/nothing", "text/html", 401, null)]
    [InlineData("/openapi/nothing/deeper", "text/html", 404, null)]
    public async Task Pages_are_the_app_and_missing_files_are_404(string path, string accept, int status, string? caching)
    {
        await using RunningService service = await RunningService.StartAsync(webRoot: _root.FullName);
        using HttpClient browser = service.Browser();
        browser.DefaultRequestHeaders.Add("Accept", accept);
        using HttpResponseMessage answer = await browser.GetAsync(new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken);
        Assert.Equal((HttpStatusCode)status, answer.StatusCode);
        Assert.Equal(status == 200 ? caching : null, status == 200 ? answer.Headers.CacheControl?.ToString() is { } c ? Ordered(c) : null : null);
        Assert.Equal(status == 200 && !path.EndsWith(".js", StringComparison.Ordinal), answer.Content.Headers.ContentType?.MediaType == "text/html");
        Assert.Contains("frame-ancestors 'none'", Assert.Single(answer.Headers.GetValues("Content-Security-Policy")), StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", Assert.Single(answer.Headers.GetValues("Content-Security-Policy")), StringComparison.Ordinal);
        Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
    }

    public void Dispose() => _root.Delete(recursive: true);

    // The client library writes the parts in an order of its own.
    private static string Ordered(string value) => value.Contains("immutable", StringComparison.Ordinal) ? "public, max-age=31536000, immutable" : value;
}
