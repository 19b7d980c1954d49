using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;
using Incubation.EndToEnd.Tests.Instruments;

namespace Incubation.EndToEnd.Tests.Broker;

/// <summary>
/// A real mosquitto with its own folder: a plain listener for probes, and one for the service, which a test may lock with a password file or
/// TLS. Can be stopped and started again on the same store, killed and frozen. Settings: mosquitto.conf(5) of Debian's 2.0.11.
/// </summary>
internal sealed class MosquittoServer : IAsyncDisposable
{
    private readonly string _program = Needs.Program("mosquitto");
    private readonly string _configuration;
    private readonly StringBuilder _log = new();
    private Process? _process;

    /// <param name="serviceListener">Lines for the service's listener; anyone may connect unless given.</param>
    public MosquittoServer(string serviceListener = "allow_anonymous true")
    {
        Folder = Directory.CreateTempSubdirectory("incubation-broker-").FullName;
        (ProbePort, ServicePort) = (FreePort(), FreePort());
        _configuration = Path.Combine(Folder, "mosquitto.conf");
        // "user root": it would otherwise change to a user that can't read the test's folder. Without tcp_nodelay, manual
        // acknowledgement stalls on Nagle's algorithm. What arrives while the service is away is queued without bound here.
        File.WriteAllText(_configuration, string.Create(CultureInfo.InvariantCulture, $"""
            per_listener_settings true
            {(Environment.IsPrivilegedProcess ? "user root" : "")}
            set_tcp_nodelay true
            persistence true
            persistence_location {Folder}/
            max_inflight_messages 500
            max_queued_messages 0
            log_dest stderr
            listener {ProbePort} 127.0.0.1
            allow_anonymous true
            listener {ServicePort} 127.0.0.1
            {serviceListener.Replace("{folder}", Folder, StringComparison.Ordinal)}

            """));
    }

    public string Folder { get; }

    public int ProbePort { get; }

    public int ServicePort { get; }

    public string Log
    {
        get
        {
            lock (_log)
            {
                return _log.ToString();
            }
        }
    }

    public async Task StartAsync(CancellationToken stop)
    {
        _process = Process.Start(new ProcessStartInfo(_program, ["-c", _configuration]) { RedirectStandardError = true })
            ?? throw new InvalidOperationException("mosquitto did not start.");
        _process.ErrorDataReceived += (_, line) =>
        {
            lock (_log)
            {
                _log.AppendLine(line.Data);
            }
        };
        _process.BeginErrorReadLine();
        foreach (int port in (int[])[ProbePort, ServicePort])
        {
            await Waiting.UntilAsync(() => ListensAsync(port, stop), TimeSpan.FromSeconds(30), $"mosquitto to listen: {Log}", stop);
        }
    }

    /// <summary>SIGTERM: it writes its sessions and queues before it goes.</summary>
    public Task StopAsync(CancellationToken stop) => EndAsync("TERM", stop);

    /// <summary>SIGKILL: what it held in memory is gone.</summary>
    public Task KillAsync(CancellationToken stop) => EndAsync("KILL", stop);

    public Task FreezeAsync(CancellationToken stop) => SignalAsync("STOP", stop);

    public Task ThawAsync(CancellationToken stop) => SignalAsync("CONT", stop);

    public async ValueTask DisposeAsync()
    {
        if (_process is { HasExited: false })
        {
            await EndAsync("KILL", CancellationToken.None);
        }

        _process?.Dispose();
        Directory.Delete(Folder, recursive: true);
    }

    private async Task EndAsync(string signal, CancellationToken stop)
    {
        await SignalAsync(signal, stop);
        await _process!.WaitForExitAsync(stop);
    }

    private Task<string> SignalAsync(string signal, CancellationToken stop)
        => Tool.RunAsync("kill", stop, $"-{signal}", _process!.Id.ToString(CultureInfo.InvariantCulture));

    private async Task<bool> ListensAsync(int port, CancellationToken stop)
    {
        if (_process!.HasExited)
        {
            throw new InvalidOperationException($"mosquitto ended with {_process.ExitCode}: {Log}");
        }

        using Socket socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        try
        {
            await socket.ConnectAsync(new IPEndPoint(IPAddress.Loopback, port), stop);
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }

    private static int FreePort()
    {
        using Socket socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        return ((IPEndPoint)socket.LocalEndPoint!).Port;
    }
}
