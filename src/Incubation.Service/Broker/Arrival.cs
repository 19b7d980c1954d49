using System.Buffers;
using MQTTnet;
using MQTTnet.Protocol;

namespace Incubation.Service.Broker;

/// <summary>One message as it arrived, with what is needed to acknowledge it later.</summary>
internal sealed class Arrival
{
    private readonly MqttApplicationMessageReceivedEventArgs _received;

    /// <param name="connection">Number of the connection that it came by.</param>
    /// <param name="received">As the client hands it over; the payload is copied, for its memory belongs to the client.</param>
    public Arrival(int connection, MqttApplicationMessageReceivedEventArgs received)
    {
        _received = received;
        Connection = connection;
        Payload = received.ApplicationMessage.Payload.ToArray();
    }

    public int Connection { get; }

    public byte[] Payload { get; }

    public string Topic => _received.ApplicationMessage.Topic;

    /// <summary>Kept by the broker and delivered on the subscription: of unknown age.</summary>
    public bool IsKept => _received.ApplicationMessage.Retain;

    /// <summary>Whether the broker has sent it before.</summary>
    public bool IsAgain => _received.ApplicationMessage.Dup;

    public ushort Packet => _received.PacketIdentifier;

    public bool WantsAcknowledgement => _received.ApplicationMessage.QualityOfServiceLevel != MqttQualityOfServiceLevel.AtMostOnce;

    public Task AcknowledgeAsync(CancellationToken cancellationToken) => _received.AcknowledgeAsync(cancellationToken);
}
