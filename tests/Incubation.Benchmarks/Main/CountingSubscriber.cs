using Incubation.EndToEnd.Tests.Instruments;

namespace Incubation.Benchmarks.Main;

/// <summary>One raw subscriber (QoS 1) that acknowledges and counts, and does nothing else.</summary>
internal sealed class CountingSubscriber : IDisposable
{
    private readonly MqttPeer _peer = new();
    private readonly byte[] _acknowledgements = new byte[64 * 1024];
    private long _count;
    private int _length;

    public long Count => Interlocked.Read(ref _count);

    public async Task ConnectAsync(int port, CancellationToken stop)
    {
        await _peer.ConnectAsync(port, "counter", stop);
        await _peer.SubscribeAsync("#", stop);
    }

    public async Task RunAsync(CancellationToken stop)
    {
        try
        {
            while (await _peer.ReceiveAsync(Handle, stop))
            {
                await _peer.SendAsync(_acknowledgements.AsMemory(0, _length), stop);
                _length = 0;
            }
        }
        catch (OperationCanceledException)
        {
            // The round is over.
        }
    }

    public void Dispose() => _peer.Dispose();

    private void Handle(byte first, ReadOnlySpan<byte> body)
    {
        if ((first & 0xF0) != 0x30)
        {
            return;
        }

        if ((first & 0x06) == 0x02)
        {
            int topic = (body[0] << 8) | body[1];
            "\u0040\u0002"u8.CopyTo(_acknowledgements.AsSpan(_length));
            body.Slice(2 + topic, 2).CopyTo(_acknowledgements.AsSpan(_length + 2));
            _length += 4;
        }

        Interlocked.Increment(ref _count);
    }
}
