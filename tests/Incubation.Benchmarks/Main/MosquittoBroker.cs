using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using Incubation.EndToEnd.Tests.Instruments;

namespace Incubation.Benchmarks.Main;

/// <summary>mosquitto as its own process on a free port, in memory only, with Nagle's delay off: it is to be as fast as it can.</summary>
internal sealed class MosquittoBroker : IAsyncDisposable
{
    private readonly Process _process;
    private readonly string _folder;

    private MosquittoBroker(Process process, string folder, int port) => (_process, _folder, Port) = (process, folder, port);

    public int Port { get; }

    public static async Task<MosquittoBroker> StartAsync(CancellationToken stop)
    {
        string program = Tool.Find("mosquitto") ?? throw new InvalidOperationException("mosquitto is not installed (tests/run.sh installs it).");
        int port;
        using (Socket socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp))
        {
            socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
            port = ((IPEndPoint)socket.LocalEndPoint!).Port;
        }

        string folder = Directory.CreateTempSubdirectory("incubation-bench-").FullName;
        string settings = Path.Combine(folder, "mosquitto.conf");
        await File.WriteAllTextAsync(settings, string.Create(CultureInfo.InvariantCulture,
            $"listener {port} 127.0.0.1\nallow_anonymous true\npersistence false\nset_tcp_nodelay true\nlog_type none\nmax_inflight_messages 0\nmax_queued_messages 0\n"), stop);
        Process process = Process.Start(new ProcessStartInfo(program, ["-c", settings]) { RedirectStandardError = true })!;
        MosquittoBroker broker = new(process, folder, port);
        await Waiting.UntilAsync(() => AnswersAsync(port, stop), TimeSpan.FromSeconds(10), "mosquitto to listen", stop);
        return broker;
    }

    public async ValueTask DisposeAsync()
    {
        _process.Kill();
        await _process.WaitForExitAsync();
        _process.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    private static async Task<bool> AnswersAsync(int port, CancellationToken stop)
    {
        try
        {
            using MqttPeer peer = new();
            await peer.ConnectAsync(port, "first", stop);
            return true;
        }
        catch (SocketException)
        {
            return false;
        }
    }
}
