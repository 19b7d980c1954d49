using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;
using Incubation.EndToEnd.Tests.Instruments;

namespace Incubation.EndToEnd.Tests.Durability;

/// <summary>
/// A probe that speaks MQTT 3.1.1 and has one message in flight: it sends a reading with its own time, waits for the PUBACK, and when the
/// connection breaks or nothing comes, connects anew and sends the same reading again, until it is acknowledged.
/// </summary>
internal sealed class PatientProbe : IAsyncDisposable
{
    private static readonly TimeSpan Between = TimeSpan.FromMilliseconds(100), NoAnswer = TimeSpan.FromSeconds(3);

    private readonly string _name;
    private readonly string _topic;
    private readonly Func<MqttPeer> _peer;
    private readonly ReadOnlyMemory<byte> _connect;
    private readonly List<(string Probe, long At)> _acknowledged = [];
    private readonly CancellationTokenSource _end;
    private readonly SemaphoreSlim _mayMeasure = new(1, 1);
    private Task _running = Task.CompletedTask;
    private long _last;

    /// <param name="topic">Where it publishes; the part before the last is its name.</param>
    /// <param name="stop">Ends it.</param>
    /// <param name="connect">Its CONNECT packet; without user and password unless given.</param>
    /// <param name="peer">Makes its socket; on this machine's own network unless given.</param>
    public PatientProbe(string topic, CancellationToken stop, byte[]? connect = null, Func<MqttPeer>? peer = null)
    {
        (_topic, _name, _peer) = (topic, topic.Split('/')[^2], peer ?? (() => new MqttPeer()));
        _connect = connect ?? MqttWire.Connect(_name);
        _end = CancellationTokenSource.CreateLinkedTokenSource(stop);
    }

    /// <summary>Where the broker is; it may move when the service is started again.</summary>
    public IPEndPoint Broker { get; set; } = new(IPAddress.Loopback, 0);

    /// <summary>What it measures, °C.</summary>
    public double Celsius { get; set; } = 31.4;

    /// <summary>Measures once and sends that for ever, though it is acknowledged: a probe whose program hangs.</summary>
    public bool Hangs { get; init; }

    /// <summary>Every reading that was acknowledged so far.</summary>
    public IReadOnlyList<(string Probe, long At)> Acknowledged
    {
        get
        {
            lock (_acknowledged)
            {
                return [.. _acknowledged];
            }
        }
    }

    public PatientProbe Start()
    {
        _running = RunAsync(_end.Token);
        return this;
    }

    /// <summary>Lets it measure nothing more until disposed; what is in flight is acknowledged first.</summary>
    public async Task<IDisposable> PauseAsync(CancellationToken stop)
    {
        await _mayMeasure.WaitAsync(stop);
        return new Pause(_mayMeasure);
    }

    /// <summary>Waits until it has had so many more acknowledgements.</summary>
    public Task MoreAsync(int count, string when, CancellationToken stop)
    {
        int before = Acknowledged.Count;
        return Waiting.UntilAsync(() => Task.FromResult(Acknowledged.Count >= before + count), TimeSpan.FromSeconds(90), $"{_name} to be acknowledged {when}", stop);
    }

    public async ValueTask DisposeAsync()
    {
        await _end.CancelAsync();
        await _running;
        _end.Dispose();
        _mayMeasure.Dispose();
    }

    private async Task RunAsync(CancellationToken end)
    {
        MqttPeer? peer = null;
        try
        {
            while (true)
            {
                await _mayMeasure.WaitAsync(end);
                try
                {
                    long at = Hangs && _last > 0 ? _last : Math.Max(_last + 1, TimeProvider.System.GetUtcNow().ToUnixTimeMilliseconds());
                    _last = at;
                    byte[] packet = Packet(at);
                    while ((peer = await TryAsync(peer, packet, end)) is null)
                    {
                        await Waiting.Pause(Between, end);
                    }

                    lock (_acknowledged)
                    {
                        _acknowledged.Add((_name, at));
                    }
                }
                finally
                {
                    _mayMeasure.Release();
                }

                await Waiting.Pause(Between, end);
            }
        }
        catch (OperationCanceledException)
        {
            // The test is over.
        }
        finally
        {
            peer?.Dispose();
        }
    }

    private byte[] Packet(long at)
    {
        string payload = string.Create(CultureInfo.InvariantCulture,
            $"{{\"value\":{Celsius},\"at\":\"{DateTimeOffset.FromUnixTimeMilliseconds(at):yyyy-MM-ddTHH:mm:ss.fff}Z\"}}");
        byte[] room = new byte[512];
        return room[..MqttWire.Publish(room, Encoding.UTF8.GetBytes(_topic), Encoding.UTF8.GetBytes(payload), 1)];
    }

    // The connection, when the message was acknowledged; null when it was not.
    private async Task<MqttPeer?> TryAsync(MqttPeer? peer, byte[] packet, CancellationToken end)
    {
        using CancellationTokenSource late = CancellationTokenSource.CreateLinkedTokenSource(end);
        late.CancelAfter(NoAnswer);
        try
        {
            if (peer is null)
            {
                peer = _peer();
                await peer.ConnectAsync(Broker, _connect, late.Token);
            }

            await peer.SendAsync(packet, late.Token);
            bool acknowledged = false;
            while (!acknowledged && await peer.ReceiveAsync((first, _) => acknowledged |= first == MqttWire.PublishAcknowledged, late.Token))
            {
            }

            if (acknowledged)
            {
                return peer;
            }
        }
        catch (Exception error) when (error is SocketException or IOException || (error is OperationCanceledException && !end.IsCancellationRequested))
        {
            // Refused, cut or silent: the reading is still ours.
        }

        peer?.Dispose();
        return null;
    }

    private sealed class Pause(SemaphoreSlim mayMeasure) : IDisposable
    {
        public void Dispose() => mayMeasure.Release();
    }
}
