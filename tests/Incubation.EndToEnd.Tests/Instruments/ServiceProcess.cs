using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text.RegularExpressions;

namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>
/// The real program as its own process, with its own data directory and ports. Builds nothing. Can be killed (SIGKILL), stopped
/// (SIGTERM), frozen, and started again on the same data.
/// </summary>
internal sealed partial class ServiceProcess : IAsyncDisposable
{
    private readonly Process _process;

    private ServiceProcess(Process process, ServiceSetup setup, int httpPort, int mqttPort)
    {
        (_process, Setup, HttpPort, MqttPort) = (process, setup, httpPort, mqttPort);
        Address = new Uri(string.Create(CultureInfo.InvariantCulture, $"http://localhost:{httpPort}"));
        process.OutputDataReceived += (_, line) => Log.Add(line.Data);
        process.ErrorDataReceived += (_, line) => Log.Add(line.Data);
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
    }

    public ServiceSetup Setup { get; }

    public int HttpPort { get; }

    public int MqttPort { get; }

    public Uri Address { get; }

    public int Id => _process.Id;

    public ServiceLog Log { get; } = new();

    /// <summary>Starts the program and waits until it says that it is ready.</summary>
    public static async Task<ServiceProcess> StartAsync(ServiceSetup setup, CancellationToken stop)
    {
        if (!File.Exists(setup.Program))
        {
            throw new InvalidOperationException($"The program is not built: {setup.Program}. Run tests/run.sh, or build src/Incubation.Service.");
        }

        (int http, int mqtt) = (setup.HttpPort ?? FreePort(), FreePort());
        ProcessStartInfo start = new("dotnet")
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = setup.Data,
        };
        foreach (string argument in (string[])[setup.Program, .. setup.Verb.Split(' '), "--data", setup.Data, "--http-port", Text(http), "--mqtt-port", Text(mqtt)])
        {
            start.ArgumentList.Add(argument);
        }

        start.Environment["Incubation__Http__Listen"] = "loopback";
        start.Environment["Incubation__Http__PublicAddress"] = string.Create(CultureInfo.InvariantCulture, $"http://localhost:{http}");
        foreach ((string key, string value) in setup.Settings)
        {
            start.Environment[key] = value;
        }

        Process process = Process.Start(start) ?? throw new InvalidOperationException("dotnet did not start.");
        ServiceProcess service = new(process, setup, http, mqtt);
        try
        {
            await service.ReadyAsync(stop);
            return service;
        }
        catch
        {
            await service.DisposeAsync();
            throw;
        }
    }

    /// <summary>The one-time code that the log shows while nobody owns the facility.</summary>
    public async Task<string> ClaimCodeAsync(CancellationToken stop)
        => (await Log.WaitForAsync(CodeLine(), TimeSpan.FromSeconds(10), stop)).Groups[1].Value;

    /// <summary>SIGKILL: nothing gets a chance to finish.</summary>
    public async Task KillAsync(CancellationToken stop)
    {
        _process.Kill();
        await _process.WaitForExitAsync(stop);
    }

    /// <summary>SIGTERM, as a service manager sends it; returns the exit code.</summary>
    public async Task<int> TerminateAsync(CancellationToken stop)
    {
        await SignalAsync("TERM", stop);
        await _process.WaitForExitAsync(stop);
        return _process.ExitCode;
    }

    public Task FreezeAsync(CancellationToken stop) => SignalAsync("STOP", stop);

    public Task ThawAsync(CancellationToken stop) => SignalAsync("CONT", stop);

    public async ValueTask DisposeAsync()
    {
        if (!_process.HasExited)
        {
            _process.Kill();
            await _process.WaitForExitAsync(CancellationToken.None);
        }

        _process.Dispose();
    }

    private Task<string> SignalAsync(string signal, CancellationToken stop) => Tool.RunAsync("kill", stop, $"-{signal}", Text(_process.Id));

    private async Task ReadyAsync(CancellationToken stop)
    {
        using HttpClient client = new() { BaseAddress = Address, Timeout = TimeSpan.FromSeconds(5) };
        await Waiting.UntilAsync(async () => _process.HasExited
                ? throw new InvalidOperationException($"The service ended with {_process.ExitCode} while starting: {Log.Tail}")
                : await AnswersAsync(client, stop),
            Setup.StartLimit, "the service to be ready", stop);
    }

    private static async Task<bool> AnswersAsync(HttpClient client, CancellationToken stop)
    {
        try
        {
            using HttpResponseMessage answer = await client.GetAsync(new Uri("/readyz", UriKind.Relative), stop);
            return answer.StatusCode == HttpStatusCode.OK;
        }
        catch (HttpRequestException)
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

    private static string Text(int number) => number.ToString(CultureInfo.InvariantCulture);

    [GeneratedRegex(@"\b([A-Z0-9]{5}-[A-Z0-9]{5})\b")]
    private static partial Regex CodeLine();
}
