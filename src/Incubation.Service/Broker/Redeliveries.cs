namespace Incubation.Service.Broker;

/// <summary>
/// Remembers messages that were taken and whose acknowledgement has not left. When the connection breaks and the broker sends one again in
/// the same session, under the same packet identifier (MQTT 5.0, 4.4), it is acknowledged and not taken a second time: a bare number
/// would count twice. Holds no more than may be unacknowledged at once.
/// </summary>
internal sealed class Redeliveries
{
    private readonly Lock _gate = new();
    private readonly Dictionary<ushort, Arrival> _taken = [];

    /// <summary>Whether this is a message that was taken already, come again. If not, it is remembered as taken from now on.</summary>
    public bool IsTakenAlready(Arrival arrival)
    {
        if (!arrival.WantsAcknowledgement)
        {
            return false;
        }

        lock (_gate)
        {
            // A first delivery under an identifier says that the broker has done with the message that had it before.
            if (arrival.IsAgain && _taken.TryGetValue(arrival.Packet, out Arrival? before)
                && before.Topic == arrival.Topic && before.Payload.AsSpan().SequenceEqual(arrival.Payload))
            {
                return true;
            }

            _taken[arrival.Packet] = arrival;
            return false;
        }
    }

    /// <summary>Its acknowledgement left by the connection that it came by.</summary>
    public void Acknowledged(Arrival arrival)
    {
        lock (_gate)
        {
            _taken.Remove(arrival.Packet);
        }
    }

    /// <summary>The broker has forgotten the session: its identifiers start afresh.</summary>
    public void Forget()
    {
        lock (_gate)
        {
            _taken.Clear();
        }
    }
}
