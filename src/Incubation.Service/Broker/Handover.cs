using System.Threading.Channels;
using Incubation.Core;
using MQTTnet;
using MQTTnet.Protocol;

namespace Incubation.Service.Broker;

/// <summary>
/// Between the client's one receiving loop, which must never wait, and the store. Bounded: acknowledged messages by what the broker may
/// have in flight, the others by the same number, beyond which they are dropped, as QoS 0 allows.
/// </summary>
internal sealed class Handover
{
    private readonly Channel<Arrival> _arrivals = Channel.CreateBounded<Arrival>(
        new BoundedChannelOptions(2 * Limits.UnacknowledgedMessages) { SingleReader = true });
    private long _dropped;

    public ChannelReader<Arrival> Reader => _arrivals.Reader;

    /// <summary>Messages of QoS 0 that came faster than they could be taken.</summary>
    public long Dropped => Interlocked.Read(ref _dropped);

    /// <summary>Takes a message over; false when the broker keeps to no limit and the connection is to be dropped.</summary>
    public bool TryTake(int connection, MqttApplicationMessageReceivedEventArgs received)
    {
        if (received.ApplicationMessage.QualityOfServiceLevel == MqttQualityOfServiceLevel.AtMostOnce
            && _arrivals.Reader.Count >= Limits.UnacknowledgedMessages)
        {
            Interlocked.Increment(ref _dropped);
            return true;
        }

        return _arrivals.Writer.TryWrite(new Arrival(connection, received));
    }

    /// <summary>Nothing more will come.</summary>
    public void Close() => _arrivals.Writer.TryComplete();
}
