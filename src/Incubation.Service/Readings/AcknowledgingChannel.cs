using System.Net;
using System.Security.Cryptography.X509Certificates;
using MQTTnet.Adapter;
using MQTTnet.Formatter;
using MQTTnet.Packets;

namespace Incubation.Service.Readings;

/// <summary>
/// A client's connection as the broker sees it, with its answers held until what they answer is on disk. Everything else passes at once.
/// </summary>
internal sealed class AcknowledgingChannel : IMqttChannelAdapter
{
    private readonly IMqttChannelAdapter _inner;
    private readonly Unanswered _all;
    private readonly Acknowledgements _answers;
    private CancellationToken _broker;
    private CancellationTokenSource _open = new();

    public AcknowledgingChannel(IMqttChannelAdapter inner, Unanswered all, ILogger log)
    {
        (_inner, _all) = (inner, all);
        _answers = new Acknowledgements(
            packet => _inner.SendPacketAsync(packet, _open.Token),
            () => _inner.PacketFormatterAdapter.ProtocolVersion == MqttProtocolVersion.V500,
            () => _open.Cancel(), all, log);
    }

    public long BytesReceived => _inner.BytesReceived;
    public long BytesSent => _inner.BytesSent;
    public X509Certificate2 ClientCertificate => _inner.ClientCertificate;
    public EndPoint RemoteEndPoint => _inner.RemoteEndPoint;
    public EndPoint LocalEndPoint => _inner.LocalEndPoint;
    public bool IsSecureConnection => _inner.IsSecureConnection;
    public MqttPacketFormatterAdapter PacketFormatterAdapter => _inner.PacketFormatterAdapter;

    public Task ConnectAsync(CancellationToken cancellationToken) => _inner.ConnectAsync(cancellationToken);

    public Task DisconnectAsync(CancellationToken cancellationToken)
    {
        _answers.End();
        return _inner.DisconnectAsync(cancellationToken);
    }

    public Task<MqttPacket> ReceivePacketAsync(CancellationToken cancellationToken)
    {
        // The CONNECT has a token of its own; from then on there is one for the life of the connection.
        if (_inner.PacketFormatterAdapter.ProtocolVersion == MqttProtocolVersion.Unknown)
        {
            return _inner.ReceivePacketAsync(cancellationToken);
        }

        Join(cancellationToken);
        if (_answers.IsFull)
        {
            return ReceiveWhenRoomAsync();
        }

        Task<MqttPacket> receiving = _inner.ReceivePacketAsync(_open.Token);
        return receiving.IsCompletedSuccessfully ? Task.FromResult(Noted(receiving.GetAwaiter().GetResult())) : NotedAsync(receiving);
    }

    public void ResetStatistics() => _inner.ResetStatistics();

    public Task SendPacketAsync(MqttPacket packet, CancellationToken cancellationToken)
    {
        if (packet is MqttPubAckPacket or MqttPubRecPacket)
        {
            _answers.Answer((MqttPacketWithIdentifier)packet);
            return Task.CompletedTask;
        }

        return _inner.SendPacketAsync(packet, cancellationToken);
    }

    /// <summary>Ends the holding of answers; the connection itself is whoever made it to dispose.</summary>
    public void Dispose()
    {
        _answers.End();
        _all.Remove(_broker);
    }

    private void Join(CancellationToken broker)
    {
        if (_broker == broker)
        {
            return;
        }

        _all.Remove(_broker);
        _broker = broker;
        _open = CancellationTokenSource.CreateLinkedTokenSource(broker);
        _all.Add(_answers, broker);
    }

    private async Task<MqttPacket> ReceiveWhenRoomAsync()
    {
        await _answers.RoomAsync(_open.Token);
        return Noted(await _inner.ReceivePacketAsync(_open.Token));
    }

    private async Task<MqttPacket> NotedAsync(Task<MqttPacket> receiving) => Noted(await receiving);

    private MqttPacket Noted(MqttPacket packet)
    {
        if (packet is MqttPublishPacket message)
        {
            _answers.Received(message);
        }

        return packet;
    }
}
