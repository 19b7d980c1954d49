using System.Net;
using Microsoft.AspNetCore.Connections;
using Microsoft.AspNetCore.Server.Kestrel.Core;

namespace Incubation.Service.Demo;

/// <summary>
/// A mail server and a webhook receiver on loopback, so that the demo's calls are truly delivered and never leave the machine. What
/// arrives is counted, written to the log in one line, and dropped.
/// </summary>
internal sealed class DemoReceivers : IAsyncDisposable
{
    /// <summary>Largest body that is read; more is refused.</summary>
    public const int BodyBytes = 256 * 1024;

    private readonly WebApplication _app;
    private readonly ILogger<DemoReceivers> _log;
    private int _mails, _hooks;

    private DemoReceivers(WebApplication app, ILogger<DemoReceivers> log)
    {
        _app = app;
        _log = log;
    }

    public int MailPort { get; private set; }

    public Uri WebhookAddress { get; private set; } = new("http://127.0.0.1/");

    public int Mails => Volatile.Read(ref _mails);

    public int Hooks => Volatile.Read(ref _hooks);

    /// <summary>Listens on two free ports of the loopback interface.</summary>
    public static async Task<DemoReceivers> StartAsync(ILogger<DemoReceivers> log)
    {
        // Empty: no settings of the service, and none of the environment, may move these listeners off loopback.
        var builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.WebHost.UseKestrelCore();
        ListenOptions? mail = null, hook = null;
        DemoReceivers? receivers = null;
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = BodyBytes;
            kestrel.Listen(IPAddress.Loopback, 0, listen => hook = listen);
            kestrel.Listen(IPAddress.Loopback, 0, listen =>
            {
                mail = listen;
                listen.Run(connection => DemoMailServer.ServeAsync(connection, subject => receivers!.MailArrived(subject)));
            });
        });
        var app = builder.Build();
        receivers = new DemoReceivers(app, log);
        app.Run(receivers.HookArrivedAsync);
        await app.StartAsync();
        receivers.MailPort = mail!.IPEndPoint!.Port;
        receivers.WebhookAddress = new Uri($"http://127.0.0.1:{hook!.IPEndPoint!.Port}/told");
        return receivers;
    }

    public async ValueTask DisposeAsync()
    {
        // Nobody waits for what is still on its way to a receiver that drops it.
        using var now = new CancellationTokenSource();
        await now.CancelAsync();
        await _app.StopAsync(now.Token);
        await _app.DisposeAsync();
    }

    private async Task HookArrivedAsync(HttpContext context)
    {
        await context.Request.Body.CopyToAsync(Stream.Null, context.RequestAborted);
        var number = Interlocked.Increment(ref _hooks);
        _log.LogInformation("Demo: the webhook reached its receiver on this machine ({Number} so far)", number);
        context.Response.StatusCode = StatusCodes.Status204NoContent;
    }

    private void MailArrived(string subject)
    {
        var number = Interlocked.Increment(ref _mails);
        _log.LogInformation("Demo: the mail “{Subject}” reached its receiver on this machine ({Number} so far)", subject, number);
    }
}
