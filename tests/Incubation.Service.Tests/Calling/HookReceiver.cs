using System.Collections.Concurrent;
using System.Security.Cryptography.X509Certificates;
using System.Text.Json;
using Incubation.Service.Calling;
using Incubation.Service.Tests.Hosting;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Logging;
using Xunit;

namespace Incubation.Service.Tests.Calling;

/// <summary>One request as the receiver had it.</summary>
internal sealed record Post(IHeaderDictionary Headers, byte[] Body)
{
    public string Id => Headers["webhook-id"].ToString();

    public JsonElement Json => JsonDocument.Parse(Body).RootElement;

    public JsonElement Data => Json.GetProperty("data");

    public string AnswerPath => new Uri(Data.GetProperty("answerUrl").GetString()!).AbsolutePath;

    /// <summary>Whether the signature is right for the secret, by the headers that came.</summary>
    public bool IsSigned(string secret) => WebhookSignature.Sign(
        WebhookSignature.Key(secret)!, Id, long.Parse(Headers["webhook-timestamp"].ToString(), System.Globalization.CultureInfo.InvariantCulture), Body)
            == Headers["webhook-signature"].ToString();
}

/// <summary>A real HTTP receiver on loopback that a test can let fail.</summary>
internal sealed class HookReceiver : IAsyncDisposable
{
    private readonly WebApplication _app;
    private readonly ConcurrentQueue<Post> _posts = new();

    private HookReceiver(WebApplication app) => _app = app;

    public string Address => _app.Urls.First().Replace("[::]", "127.0.0.1", StringComparison.Ordinal) + "/hook";

    public IReadOnlyList<Post> Posts => [.. _posts];

    /// <summary>What it answers; 204 unless a test says otherwise.</summary>
    public Func<HttpContext, Task> Answer { get; set; } = context =>
    {
        context.Response.StatusCode = 204;
        return Task.CompletedTask;
    };

    public static async Task<HookReceiver> StartAsync(X509Certificate2? certificate = null)
    {
        WebApplicationBuilder builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        builder.WebHost.ConfigureKestrel(kestrel => kestrel.Listen(System.Net.IPAddress.Loopback, 0, listen =>
        {
            if (certificate is not null)
            {
                listen.UseHttps(certificate);
            }
        }));
        var receiver = new HookReceiver(builder.Build());
        receiver._app.Map("/{**path}", receiver.TakeAsync);
        await receiver._app.StartAsync(TestContext.Current.CancellationToken);
        return receiver;
    }

    public void Status(int status) => Answer = context =>
    {
        context.Response.StatusCode = status;
        return Task.CompletedTask;
    };

    public async Task<Post> PostAsync(int index)
    {
        await Eventually.TrueAsync(() => _posts.Count > index, $"post {index}");
        return Posts[index];
    }

    public async ValueTask DisposeAsync() => await _app.DisposeAsync();

    private async Task TakeAsync(HttpContext context)
    {
        using var body = new MemoryStream();
        await context.Request.Body.CopyToAsync(body, context.RequestAborted);
        var headers = new HeaderDictionary();
        foreach (var header in context.Request.Headers)
        {
            headers[header.Key] = header.Value;
        }

        _posts.Enqueue(new Post(headers, body.ToArray()));
        await Answer(context);
    }
}
