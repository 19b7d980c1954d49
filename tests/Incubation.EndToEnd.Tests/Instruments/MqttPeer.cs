using System.Net;
using System.Net.Sockets;

namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>One TCP connection that speaks MQTT 3.1.1: connects, and hands over whole packets as they come.</summary>
internal sealed class MqttPeer : IDisposable
{
    private readonly Socket _socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
    private readonly byte[] _received = new byte[64 * 1024];
    private int _kept;

    /// <summary>Called for each packet: its first byte, and what follows the fixed header.</summary>
    public delegate void PacketHandler(byte first, ReadOnlySpan<byte> body);

    public Task ConnectAsync(int port, string clientId, CancellationToken stop)
        => ConnectAsync(new IPEndPoint(IPAddress.Loopback, port), MqttWire.Connect(clientId), stop);

    /// <summary>Connects with a CONNECT packet of the caller's.</summary>
    public async Task ConnectAsync(IPEndPoint broker, ReadOnlyMemory<byte> connect, CancellationToken stop)
    {
        await _socket.ConnectAsync(broker, stop);
        await SendAsync(connect, stop);
        await ExpectAsync(MqttWire.ConnectAcknowledged, stop);
    }

    public async Task SubscribeAsync(string filter, CancellationToken stop)
    {
        await SendAsync(MqttWire.Subscribe(1, filter, quality: 1), stop);
        await ExpectAsync(MqttWire.SubscribeAcknowledged, stop);
    }

    public async Task SendAsync(ReadOnlyMemory<byte> bytes, CancellationToken stop)
    {
        while (bytes.Length > 0)
        {
            bytes = bytes[await _socket.SendAsync(bytes, SocketFlags.None, stop)..];
        }
    }

    /// <summary>Waits for bytes and handles every whole packet among them; false when the other side has closed.</summary>
    public async Task<bool> ReceiveAsync(PacketHandler handle, CancellationToken stop)
    {
        int count = await _socket.ReceiveAsync(_received.AsMemory(_kept), SocketFlags.None, stop);
        if (count == 0)
        {
            return false;
        }

        Span<byte> bytes = _received.AsSpan(0, _kept + count);
        for (int length; (length = MqttWire.PacketLength(bytes, out int header)) > 0; bytes = bytes[length..])
        {
            handle(bytes[0], bytes[header..length]);
        }

        bytes.CopyTo(_received);
        _kept = bytes.Length;
        return true;
    }

    public void Dispose() => _socket.Dispose();

    private async Task ExpectAsync(byte first, CancellationToken stop)
    {
        bool got = false;
        while (!got)
        {
            bool open = await ReceiveAsync((kind, body) => got = kind == first && body[^1] < 0x80 && (kind != MqttWire.ConnectAcknowledged || body[1] == 0), stop);
            if (!open)
            {
                throw new IOException("The broker closed the connection instead of answering.");
            }
        }
    }
}
