using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Text.Json.Nodes;

namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>A small HTTP server of this machine that receives webhooks, checks each signature itself and keeps them in order.</summary>
internal sealed class WebhookReceiver : IAsyncDisposable
{
    private readonly HttpListener _listener = new();
    private readonly ConcurrentQueue<Received> _received = new();
    private readonly Task _serving;

    public WebhookReceiver()
    {
        // HttpListener takes no port 0; a port that somebody grabs in between is tried again.
        for (int tries = 0; !_listener.IsListening; tries++)
        {
            int port = FreePort();
            _listener.Prefixes.Clear();
            _listener.Prefixes.Add($"http://127.0.0.1:{port}/");
            try
            {
                _listener.Start();
            }
            catch (HttpListenerException) when (tries < 10)
            {
                continue;
            }

            Address = $"http://127.0.0.1:{port}/night";
        }

        _serving = ServeAsync();
    }

    public string Address { get; private set; } = "";

    public string Secret { get; } = "whsec_" + Convert.ToBase64String(RandomNumberGenerator.GetBytes(24));

    /// <summary>Status that is answered; an error makes the service try again.</summary>
    public HttpStatusCode Answer { get; set; } = HttpStatusCode.NoContent;

    public IReadOnlyList<Received> All => [.. _received];

    /// <summary>One message: its body, what is wrong with its signature (null: nothing), and when it was whole, by the monotonic clock.</summary>
    public sealed record Received(JsonNode Body, string? Fault, string? Id, long Timestamp)
    {
        public string? Type => (string?)Body["type"];

        public string? Severity => (string?)Body["data"]?["severity"];
    }

    public async ValueTask DisposeAsync()
    {
        _listener.Close();
        await _serving;
    }

    private async Task ServeAsync()
    {
        while (true)
        {
            try
            {
                HttpListenerContext context = await _listener.GetContextAsync();
                await KeepAsync(context);
            }
            catch (Exception error) when (error is HttpListenerException or ObjectDisposedException)
            {
                return;
            }
        }
    }

    private async Task KeepAsync(HttpListenerContext context)
    {
        using MemoryStream body = new();
        await context.Request.InputStream.CopyToAsync(body);
        long arrived = TimeProvider.System.GetTimestamp();
        string? id = context.Request.Headers["webhook-id"];
        string? fault = StandardWebhook.Fault(Secret, id, context.Request.Headers["webhook-timestamp"],
            context.Request.Headers["webhook-signature"], body.ToArray(), TimeProvider.System.GetUtcNow());
        _received.Enqueue(new Received(JsonNode.Parse(body.ToArray())!, fault, id, arrived));
        context.Response.StatusCode = (int)Answer;
        context.Response.Close();
    }

    private static int FreePort()
    {
        using Socket socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        return ((IPEndPoint)socket.LocalEndPoint!).Port;
    }
}
