using System.Globalization;
using System.Net;
using System.Net.Sockets;

namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>
/// Stands before Debian's influxd 1.6.7 and takes writes at <c>/api/v2/write?bucket=</c>, where later ones take them, on to <c>/write?db=</c>;
/// everything else goes through as it is. While influxd is away it answers 502, as a proxy does.
/// </summary>
internal sealed class InfluxDoor : IAsyncDisposable
{
    private readonly HttpListener _listener = new();
    private readonly HttpClient _onward;
    private readonly Task _serving;
    private int _writes;

    private InfluxDoor(Uri influx, int port)
    {
        _onward = new HttpClient { BaseAddress = influx };
        Address = new Uri(string.Create(CultureInfo.InvariantCulture, $"http://127.0.0.1:{port}/"));
        _listener.Prefixes.Add(Address.ToString());
        _listener.Start();
        _serving = ServeAsync();
    }

    public Uri Address { get; }

    /// <summary>Writes that influxd answered, whatever it said.</summary>
    public int Writes => Volatile.Read(ref _writes);

    public static InfluxDoor Before(InfluxServer influx)
    {
        using Socket socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        socket.Bind(new IPEndPoint(IPAddress.Loopback, 0));
        int port = ((IPEndPoint)socket.LocalEndPoint!).Port;
        socket.Close();
        return new InfluxDoor(influx.Address, port);
    }

    public async ValueTask DisposeAsync()
    {
        _listener.Close();
        await _serving;
        _onward.Dispose();
    }

    private async Task ServeAsync()
    {
        while (_listener.IsListening)
        {
            try
            {
                // Each on its own: one whose sender was killed may hang for a while.
                _ = PassAsync(await _listener.GetContextAsync());
            }
            catch (Exception error) when (error is HttpListenerException or ObjectDisposedException or InvalidOperationException)
            {
                // Closed.
            }
        }
    }

    private async Task PassAsync(HttpListenerContext context)
    {
        HttpListenerRequest asked = context.Request;
        bool isWrite = asked.Url!.AbsolutePath == "/api/v2/write";
        string path = isWrite
            ? $"write?db={Uri.EscapeDataString(asked.QueryString["bucket"]!)}&precision={asked.QueryString["precision"]}"
            : asked.Url.PathAndQuery.TrimStart('/');
        using HttpRequestMessage request = new(new HttpMethod(asked.HttpMethod), new Uri(path, UriKind.Relative));
        if (asked.HasEntityBody)
        {
            request.Content = new StreamContent(asked.InputStream);
            request.Content.Headers.TryAddWithoutValidation("Content-Type", asked.ContentType);
            request.Content.Headers.TryAddWithoutValidation("Content-Encoding", asked.Headers["Content-Encoding"]);
        }

        try
        {
            using HttpResponseMessage answer = await _onward.SendAsync(request);
            byte[] body = await answer.Content.ReadAsByteArrayAsync();
            context.Response.StatusCode = (int)answer.StatusCode;
            context.Response.ContentType = answer.Content.Headers.ContentType?.ToString() ?? "application/json";
            if (body.Length > 0)
            {
                context.Response.ContentLength64 = body.Length;
                await context.Response.OutputStream.WriteAsync(body);
            }

            context.Response.Close();
            Interlocked.Add(ref _writes, isWrite ? 1 : 0);
        }
        catch (Exception error) when (error is HttpRequestException or HttpListenerException or IOException or ObjectDisposedException or InvalidOperationException)
        {
            // influxd is away, or whoever asked is. Abort alone would end with an empty 200.
            context.Response.StatusCode = (int)HttpStatusCode.BadGateway;
            context.Response.Abort();
        }
    }
}
