using System.Buffers;
using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using System.Security.Cryptography;
using System.Security.Cryptography.X509Certificates;
using Incubation.Service.Calling;
using Incubation.Service.Tests.Hosting;
using MimeKit;
using SmtpServer;
using SmtpServer.Mail;
using SmtpServer.Protocol;
using SmtpServer.Storage;
using Xunit;

namespace Incubation.Service.Tests.Calling;

/// <summary>A real SMTP server on loopback that a test can let refuse.</summary>
internal sealed class MailReceiver : MessageStore, IMailboxFilter, IAsyncDisposable
{
    private readonly ConcurrentQueue<byte[]> _mails = new();
    private readonly CancellationTokenSource _stop = new();
    private Task _running = Task.CompletedTask;

    public int Port { get; } = FreePort();

    public IReadOnlyList<byte[]> Mails => [.. _mails];

    /// <summary>When set, every recipient is refused with it.</summary>
    public SmtpResponse? Refusal { get; set; }

    /// <summary>Recipients that were asked for.</summary>
    public int Asked { get; private set; }

    /// <summary>Starts one: plain, with STARTTLS, or with TLS from the first byte.</summary>
    public static MailReceiver Start(X509Certificate2? certificate = null, bool tls = false)
    {
        var receiver = new MailReceiver();
        var services = new SmtpServer.ComponentModel.ServiceProvider();
        services.Add((IMessageStore)receiver);
        services.Add((IMailboxFilter)receiver);
        EndpointDefinitionBuilder endpoint = new EndpointDefinitionBuilder().Endpoint(new IPEndPoint(IPAddress.Loopback, receiver.Port)).IsSecure(tls);
        if (certificate is not null)
        {
            endpoint.Certificate(certificate);
        }

        var server = new SmtpServer.SmtpServer(new SmtpServerOptionsBuilder().ServerName("localhost").Endpoint(endpoint.Build()).Build(), services);
        receiver._running = server.StartAsync(receiver._stop.Token);
        return receiver;
    }

    public Dictionary<string, string?> Settings(string security = "none") => new()
    {
        ["Incubation:Mail:Host"] = "127.0.0.1",
        ["Incubation:Mail:Port"] = Port.ToString(System.Globalization.CultureInfo.InvariantCulture),
        ["Incubation:Mail:Security"] = security,
        ["Incubation:Mail:From"] = "room@example.org",
        ["Incubation:Mail:CheckRevocation"] = "false",
    };

    public async Task<MimeMessage> MailAsync(int index)
    {
        await Eventually.TrueAsync(() => _mails.Count > index, $"mail {index}");
        return await MimeMessage.LoadAsync(new MemoryStream(Mails[index]), TestContext.Current.CancellationToken);
    }

    public override Task<SmtpResponse> SaveAsync(
        ISessionContext context, IMessageTransaction transaction, ReadOnlySequence<byte> buffer, CancellationToken cancellationToken)
    {
        _mails.Enqueue(buffer.ToArray());
        return Task.FromResult(SmtpResponse.Ok);
    }

    public Task<bool> CanAcceptFromAsync(ISessionContext context, IMailbox from, int size, CancellationToken cancellationToken) => Task.FromResult(true);

    public Task<bool> CanDeliverToAsync(ISessionContext context, IMailbox to, IMailbox from, CancellationToken cancellationToken)
    {
        Asked++;
        return Refusal is null ? Task.FromResult(true) : throw new SmtpResponseException(Refusal);
    }

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        try
        {
            await _running;
        }
        catch (OperationCanceledException)
        {
            // It was told to.
        }

        _stop.Dispose();
    }

    /// <summary>A certificate that no machine trusts, and a judge that trusts just this one.</summary>
    public static (X509Certificate2 Certificate, ReceiverTrust Trust) ThrowAway()
    {
        using var key = RSA.Create(2048);
        var request = new CertificateRequest("CN=localhost", key, HashAlgorithmName.SHA256, RSASignaturePadding.Pkcs1);
        DateTimeOffset now = TimeProvider.System.GetUtcNow();
        using X509Certificate2 made = request.CreateSelfSigned(now.AddDays(-1), now.AddDays(7));
        X509Certificate2 certificate = X509CertificateLoader.LoadPkcs12(made.Export(X509ContentType.Pfx), null);
        return (certificate, new ReceiverTrust((_, shown, _, _) => shown?.GetCertHashString() == certificate.GetCertHashString()));
    }

    private static int FreePort()
    {
        using var probe = new TcpListener(IPAddress.Loopback, 0);
        probe.Start();
        return ((IPEndPoint)probe.LocalEndpoint).Port;
    }
}
