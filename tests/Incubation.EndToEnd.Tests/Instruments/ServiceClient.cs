using System.Net;
using System.Text;
using System.Text.Json.Nodes;

namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>Speaks to the service over HTTP as the web app does: JSON, a session cookie, and where the request comes from.</summary>
internal sealed class ServiceClient : IDisposable
{
    public const string Owner = "Ines";
    public const string Password = "four plain words here";

    private readonly HttpClient _http;

    public ServiceClient(Uri address)
    {
        Handler = new HttpClientHandler { AllowAutoRedirect = false };
        _http = new HttpClient(Handler) { BaseAddress = address, Timeout = TimeSpan.FromSeconds(20) };
        _http.DefaultRequestHeaders.Add("Origin", address.GetLeftPart(UriPartial.Authority));
    }

    public HttpClientHandler Handler { get; }

    /// <summary>Claims the facility with the code of the log and keeps the session.</summary>
    public static async Task<ServiceClient> ClaimAsync(ServiceProcess service, CancellationToken stop)
    {
        ServiceClient client = new(service.Address);
        string code = await service.ClaimCodeAsync(stop);
        await client.SendAsync(HttpMethod.Post, "/api/claim", new JsonObject { ["code"] = code, ["name"] = Owner, ["password"] = Password }, stop);
        return client;
    }

    public Task<JsonNode> SignInAsync(CancellationToken stop)
        => SendAsync(HttpMethod.Post, "/api/session", new JsonObject { ["name"] = Owner, ["password"] = Password }, stop);

    public Task<JsonNode> GetAsync(string path, CancellationToken stop) => SendAsync(HttpMethod.Get, path, null, stop);

    public async Task<JsonNode> SendAsync(HttpMethod method, string path, JsonNode? body, CancellationToken stop)
    {
        (HttpStatusCode status, _, string text) = await TryAsync(method, path, body, stop);
        return (int)status is >= 200 and < 300
            ? (text.Length == 0 ? new JsonObject() : JsonNode.Parse(text)!)
            : throw new InvalidOperationException($"{method} {path} answered {(int)status}: {text}");
    }

    public async Task<(HttpStatusCode Status, string? MediaType, string Text)> TryAsync(HttpMethod method, string path, JsonNode? body, CancellationToken stop)
    {
        using HttpRequestMessage request = new(method, new Uri(path, UriKind.RelativeOrAbsolute));
        if (body is not null)
        {
            request.Content = new StringContent(body.ToJsonString(), Encoding.UTF8, "application/json");
        }

        using HttpResponseMessage answer = await _http.SendAsync(request, stop);
        return (answer.StatusCode, answer.Content.Headers.ContentType?.MediaType, await answer.Content.ReadAsStringAsync(stop));
    }

    public void Dispose()
    {
        _http.Dispose();
        Handler.Dispose();
    }
}
