using System.Text;

namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>
/// Publishes QoS 1 messages over one raw socket, never more than a window of them unacknowledged, and knows which were acknowledged.
/// A message is a number from 0 on; <see cref="Payload"/> makes its bytes.
/// </summary>
internal sealed class RawPublisher(string topic, int window, RawPublisher.Payload payload, bool keepIds) : IDisposable
{
    private readonly MqttPeer _peer = new();
    private readonly byte[] _topic = Encoding.UTF8.GetBytes(topic);
    private readonly byte[] _batch = new byte[window * 256];
    private readonly byte[] _one = new byte[128];
    private readonly List<long> _ids = [];
    private readonly Dictionary<ushort, long> _inFlight = [];
    private long _next;
    private long _acknowledged;
    private int _waiting;

    /// <summary>Writes the payload of a message and returns its length, at most 128 bytes.</summary>
    public delegate int Payload(long message, Span<byte> into);

    public string Topic => topic;

    public long Acknowledged => Interlocked.Read(ref _acknowledged);

    /// <summary>Numbers of the acknowledged messages, as of now.</summary>
    public IReadOnlyList<long> AcknowledgedIds
    {
        get
        {
            lock (_ids)
            {
                return [.. _ids];
            }
        }
    }

    public Task ConnectAsync(int port, string clientId, CancellationToken stop) => _peer.ConnectAsync(port, clientId, stop);

    /// <summary>Publishes until told to stop or the connection breaks; then waits, in vain too, for what is still unacknowledged.</summary>
    /// <param name="halt">Ends the sending; what is in flight is still waited for.</param>
    /// <param name="stop">Ends the waiting too.</param>
    public async Task RunAsync(CancellationToken halt, CancellationToken stop)
    {
        try
        {
            while (_waiting > 0 || !halt.IsCancellationRequested)
            {
                if (!halt.IsCancellationRequested)
                {
                    await FillAsync(stop);
                }

                if (!await _peer.ReceiveAsync(Handle, stop))
                {
                    return;
                }
            }
        }
        catch (Exception error) when (error is System.Net.Sockets.SocketException or OperationCanceledException or IOException)
        {
            // The service was killed, or the test is over: what was acknowledged by then is known.
        }
    }

    public void Dispose() => _peer.Dispose();

    private Task FillAsync(CancellationToken stop)
    {
        int length = 0;
        for (; _waiting < window; _waiting++, _next++)
        {
            // 0 is no packet identifier (MQTT 3.1.1, 2.3.1).
            ushort packet = (ushort)((_next % ushort.MaxValue) + 1);
            if (keepIds)
            {
                _inFlight[packet] = _next;
            }

            length += MqttWire.Publish(_batch.AsSpan(length), _topic, _one.AsSpan(0, payload(_next, _one)), packet);
        }

        return length == 0 ? Task.CompletedTask : _peer.SendAsync(_batch.AsMemory(0, length), stop);
    }

    private void Handle(byte first, ReadOnlySpan<byte> body)
    {
        if (first != MqttWire.PublishAcknowledged)
        {
            return;
        }

        _waiting--;
        if (keepIds && _inFlight.Remove((ushort)((body[0] << 8) | body[1]), out long message))
        {
            lock (_ids)
            {
                _ids.Add(message);
            }
        }

        Interlocked.Increment(ref _acknowledged);
    }
}
