using System.Diagnostics;
using System.Globalization;
using System.IO.Compression;
using System.Net;
using System.Net.Http.Headers;
using System.Net.Sockets;
using System.Text;

namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>
/// A real influxd as its own process: loopback, free ports, folders of its own. It can be stopped and started again on the same data, and
/// be killed. Start with <see cref="StartAsync"/>, fill with <see cref="WriteAsync"/>, ask with <see cref="QueryAsync"/>.
/// </summary>
internal sealed class InfluxServer : IAsyncDisposable
{
    public const string Program = "influxd";
    public const string Database = "incubation";

    private const int LinesPerWrite = 5_000;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    private readonly string _program, _folder;
    private readonly HttpClient _http;
    private Process? _process;

    private InfluxServer(string program, string folder, int port)
    {
        (_program, _folder) = (program, folder);
        Address = new Uri(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{port}"));
        _http = new HttpClient { BaseAddress = Address, Timeout = TimeSpan.FromMinutes(5) };
    }

    /// <summary>Where it is asked.</summary>
    public Uri Address { get; }

    /// <summary>Folder of its data files, to be weighed.</summary>
    public string DataFolder => Path.Combine(_folder, "data");

    /// <summary>Starts influxd with one empty database.</summary>
    /// <param name="settings">More lines for its <c>[http]</c> or <c>[data]</c> sections, as TOML tables of their own.</param>
    /// <param name="stop">Ends the waiting.</param>
    public static async Task<InfluxServer> StartAsync(CancellationToken stop, string settings = "")
    {
        string program = Tool.Find(Program) ?? throw new InvalidOperationException("influxd is not installed (tests/run.sh installs it).");
        string folder = Directory.CreateTempSubdirectory("incubation-influx-").FullName;
        (int http, int rpc) = FreePorts();
        await File.WriteAllTextAsync(Path.Combine(folder, "influxdb.conf"), string.Create(CultureInfo.InvariantCulture, $"""
            reporting-disabled = true
            bind-address = "127.0.0.1:{rpc}"
            [meta]
              dir = "{folder}/meta"
            [data]
              dir = "{folder}/data"
              wal-dir = "{folder}/wal"
              query-log-enabled = false
            [http]
              bind-address = "127.0.0.1:{http}"
              log-enabled = false
              max-body-size = 1000000
            [monitor]
              store-enabled = false
            {settings}
            """), stop);
        InfluxServer server = new(program, folder, http);
        try
        {
            await server.StartAgainAsync(stop);
            await server.QueryAsync($"CREATE DATABASE \"{Database}\"", stop);
            return server;
        }
        catch
        {
            await server.DisposeAsync();
            throw;
        }
    }

    /// <summary>Starts it on the data that it has.</summary>
    public async Task StartAgainAsync(CancellationToken stop)
    {
        ProcessStartInfo start = new(_program, ["-config", Path.Combine(_folder, "influxdb.conf")])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        _process = Process.Start(start) ?? throw new InvalidOperationException("influxd did not start.");
        StringBuilder said = new();
        _process.OutputDataReceived += (_, line) => Hear(said, line.Data);
        _process.ErrorDataReceived += (_, line) => Hear(said, line.Data);
        _process.BeginOutputReadLine();
        _process.BeginErrorReadLine();
        await Waiting.UntilAsync(
            async () => _process.HasExited ? throw new InvalidOperationException($"influxd ended while starting: {Heard(said)}") : await AnswersAsync(stop),
            Patience, "influxd to listen", stop);
    }

    /// <summary>Stops it as a service manager does; its data stay.</summary>
    public async Task StopAsync(CancellationToken stop)
    {
        if (_process is { HasExited: false } running)
        {
            await Tool.RunAsync("kill", stop, "-TERM", running.Id.ToString(CultureInfo.InvariantCulture));
            await running.WaitForExitAsync(stop);
        }

        _process?.Dispose();
        _process = null;
    }

    /// <summary>Writes line protocol with millisecond times, many lines a request, gzipped; fails on the first refusal.</summary>
    public async Task WriteAsync(IEnumerable<string> lines, CancellationToken stop)
    {
        foreach (string[] part in lines.Chunk(LinesPerWrite))
        {
            using MemoryStream packed = new();
            await using (GZipStream gzip = new(packed, CompressionLevel.Fastest, leaveOpen: true))
            {
                await gzip.WriteAsync(Encoding.UTF8.GetBytes(string.Join('\n', part)), stop);
            }

            using ByteArrayContent body = new(packed.ToArray());
            body.Headers.ContentType = new MediaTypeHeaderValue("text/plain");
            body.Headers.ContentEncoding.Add("gzip");
            using HttpResponseMessage answer = await _http.PostAsync(new Uri($"/write?db={Database}&precision=ms", UriKind.Relative), body, stop);
            if (answer.StatusCode != HttpStatusCode.NoContent)
            {
                throw new InvalidOperationException($"influxd answered {(int)answer.StatusCode}: {await answer.Content.ReadAsStringAsync(stop)}");
            }
        }
    }

    /// <summary>Asks in InfluxQL with times in milliseconds; the answer is its JSON.</summary>
    public async Task<string> QueryAsync(string influxQl, CancellationToken stop)
    {
        using FormUrlEncodedContent form = new([new("db", Database), new("epoch", "ms"), new("q", influxQl)]);
        using HttpResponseMessage answer = await _http.PostAsync(new Uri("/query", UriKind.Relative), form, stop);
        string text = await answer.Content.ReadAsStringAsync(stop);
        return answer.IsSuccessStatusCode && !text.Contains("\"error\"", StringComparison.Ordinal)
            ? text
            : throw new InvalidOperationException($"influxd answered {(int)answer.StatusCode}: {text}");
    }

    public async ValueTask DisposeAsync()
    {
        if (_process is { HasExited: false } running)
        {
            running.Kill();
            await running.WaitForExitAsync(CancellationToken.None);
        }

        _process?.Dispose();
        _http.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    private async Task<bool> AnswersAsync(CancellationToken stop)
    {
        try
        {
            using HttpResponseMessage answer = await _http.GetAsync(new Uri("/ping", UriKind.Relative), stop);
            return answer.StatusCode == HttpStatusCode.NoContent;
        }
        catch (HttpRequestException)
        {
            return false;
        }
    }

    private static (int, int) FreePorts()
    {
        using Socket one = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        using Socket two = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        one.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        two.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        return (((IPEndPoint)one.LocalEndPoint!).Port, ((IPEndPoint)two.LocalEndPoint!).Port);
    }

    private static void Hear(StringBuilder said, string? line)
    {
        lock (said)
        {
            said.AppendLine(line);
        }
    }

    private static string Heard(StringBuilder said)
    {
        lock (said)
        {
            return said.ToString();
        }
    }
}
