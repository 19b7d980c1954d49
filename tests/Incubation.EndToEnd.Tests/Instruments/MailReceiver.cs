using System.Buffers;
using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using System.Text;
using SmtpServer;
using SmtpServer.ComponentModel;
using SmtpServer.Protocol;
using SmtpServer.Storage;

namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>A real SMTP server on a free port of this machine that keeps what it is sent, with the time of arrival.</summary>
internal sealed class MailReceiver : IAsyncDisposable
{
    private readonly CancellationTokenSource _stop = new();
    private readonly Task _serving;
    private readonly Box _box = new();

    public MailReceiver()
    {
        using (Socket socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp))
        {
            socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
            Port = ((IPEndPoint)socket.LocalEndPoint!).Port;
        }

        ISmtpServerOptions options = new SmtpServerOptionsBuilder().ServerName("localhost")
            .Endpoint(endpoint => endpoint.Endpoint(new IPEndPoint(IPAddress.Loopback, Port)).AllowUnsecureAuthentication(false)).Build();
        ServiceProvider services = new();
        services.Add(_box);
        _serving = new SmtpServer.SmtpServer(options, services).StartAsync(_stop.Token);
    }

    public int Port { get; }

    /// <summary>All mails so far, in order of arrival: the raw message, undecoded but for soft line breaks, and when it came.</summary>
    public IReadOnlyList<(string Text, long Timestamp)> Mails => [.. _box.Mails];

    /// <summary>Points the service's mail at this server.</summary>
    public void Settle(ServiceSetup setup)
    {
        setup.Settings["Incubation__Mail__Host"] = "127.0.0.1";
        setup.Settings["Incubation__Mail__Port"] = Port.ToString(System.Globalization.CultureInfo.InvariantCulture);
        setup.Settings["Incubation__Mail__Security"] = "none";
        setup.Settings["Incubation__Mail__From"] = "incubation@egg-room.example";
    }

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        try
        {
            await _serving;
        }
        catch (OperationCanceledException)
        {
            // Stopped as asked.
        }

        _stop.Dispose();
    }

    private sealed class Box : MessageStore
    {
        public ConcurrentQueue<(string, long)> Mails { get; } = new();

        public override Task<SmtpResponse> SaveAsync(
            ISessionContext context, IMessageTransaction transaction, ReadOnlySequence<byte> buffer, CancellationToken cancellationToken)
        {
            // Quoted-printable (RFC 2045, 6.7): a trailing "=" continues the line, "=3D" is an equals sign; enough to find a link.
            string text = Encoding.UTF8.GetString(buffer).Replace("=\r\n", "", StringComparison.Ordinal).Replace("=3D", "=", StringComparison.Ordinal);
            Mails.Enqueue((text, TimeProvider.System.GetTimestamp()));
            return Task.FromResult(SmtpResponse.Ok);
        }
    }
}
