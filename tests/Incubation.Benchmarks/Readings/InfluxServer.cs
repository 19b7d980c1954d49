using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;
using Incubation.Core.Readings;
using Incubation.EndToEnd.Tests.Instruments;

namespace Incubation.Benchmarks.Readings;

/// <summary>A real InfluxDB 1.x server of its own on free ports, with the same season and its own minute rollups.</summary>
internal sealed class InfluxServer : IAsyncDisposable
{
    private const int Lines = 10_000;

    private readonly Process _process;
    private readonly HttpClient _http;

    private InfluxServer(Process process, int port)
    {
        _process = process;
        _http = new HttpClient { BaseAddress = new Uri($"http://127.0.0.1:{port}"), Timeout = TimeSpan.FromMinutes(5) };
    }

    /// <summary>Null when no server is installed.</summary>
    public static async Task<InfluxServer?> StartAsync(string folder, CancellationToken stop)
    {
        if (Tool.Find("influxd") is not { } program)
        {
            return null;
        }

        (int http, int rpc) = (FreePort(), FreePort());
        string settings = Path.Combine(folder, "influx.conf");
        await File.WriteAllTextAsync(settings, $"""
            reporting-disabled = true
            bind-address = "127.0.0.1:{rpc}"
            [meta]
            dir = "{folder}/influx/meta"
            [data]
            dir = "{folder}/influx/data"
            wal-dir = "{folder}/influx/wal"
            query-log-enabled = false
            [monitor]
            store-enabled = false
            [http]
            bind-address = "127.0.0.1:{http}"
            log-enabled = false
            [logging]
            level = "error"
            """, stop);
        Process process = Process.Start(new ProcessStartInfo(program, ["-config", settings]) { RedirectStandardError = true, RedirectStandardOutput = true })!;
        process.BeginErrorReadLine();
        process.BeginOutputReadLine();
        InfluxServer server = new(process, http);
        await Waiting.UntilAsync(() => server.AnswersAsync(stop), TimeSpan.FromSeconds(30), "InfluxDB to listen", stop);
        return server;
    }

    public async Task LoadAsync(IEnumerable<Reading> readings, CancellationToken stop)
    {
        await QueryAsync("CREATE DATABASE season", post: true, stop);
        foreach (Reading[] part in readings.Chunk(Lines))
        {
            StringBuilder lines = new();
            foreach (Reading reading in part)
            {
                lines.Append(CultureInfo.InvariantCulture, $"reading,probe={reading.Series.Probe} v={reading.Value} {reading.At.ToUnixTimeMilliseconds()}\n");
            }

            using StringContent body = new(lines.ToString());
            using HttpResponseMessage answer = await _http.PostAsync(new Uri("/write?db=season&precision=ms", UriKind.Relative), body, stop);
            answer.EnsureSuccessStatusCode();
        }

        await QueryAsync("SELECT count(v) AS c, sum(v) AS s, min(v) AS l, max(v) AS g INTO minute FROM reading GROUP BY time(1m), probe", post: true, stop);
    }

    /// <summary>Buckets from the minute rollups, asked over HTTP as everybody has to.</summary>
    public Task<string> FromMinutesAsync(string probe, long from, long to, long width, CancellationToken stop) => QueryAsync(string.Create(
        CultureInfo.InvariantCulture,
        $"SELECT min(l), sum(s), sum(c), max(g) FROM minute WHERE probe = '{probe}' AND time >= {from}ms AND time < {to}ms GROUP BY time({width}ms, {from % width}ms)"),
        post: false, stop);

    public async ValueTask DisposeAsync()
    {
        _http.Dispose();
        _process.Kill();
        await _process.WaitForExitAsync();
        _process.Dispose();
    }

    private async Task<string> QueryAsync(string query, bool post, CancellationToken stop)
    {
        Uri uri = new($"/query?db=season&epoch=ms&q={Uri.EscapeDataString(query)}", UriKind.Relative);
        using HttpResponseMessage answer = post ? await _http.PostAsync(uri, null, stop) : await _http.GetAsync(uri, stop);
        answer.EnsureSuccessStatusCode();
        return await answer.Content.ReadAsStringAsync(stop);
    }

    private async Task<bool> AnswersAsync(CancellationToken stop)
    {
        try
        {
            using HttpResponseMessage answer = await _http.GetAsync(new Uri("/ping", UriKind.Relative), stop);
            return answer.IsSuccessStatusCode;
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
}
