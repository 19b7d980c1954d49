using System.Buffers;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace Incubation.Service.Broker;

/// <summary>
/// The service's own message through the broker. It goes to a topic that the subscription to the readings hears, so that its return proves
/// that very subscription, the broker and our receiving loop. QoS 0: it passes readings that wait for their acknowledgement.
/// </summary>
internal sealed class Heartbeat
{
    /// <summary>What stands in the quantity's place. It is no quantity: such a message is never a reading, whoever sent it.</summary>
    public const string Level = "service-heartbeat";

    private readonly string _self = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(8));
    private long _sent;
    private long _heard;

    /// <param name="template">Where readings are published.</param>
    /// <param name="clientId">Stands in the place of incubator and probe.</param>
    public Heartbeat(string template, string clientId)
    {
        // A template without a quantity has only the probe's name left that could tell.
        string name = template.Contains("{quantity}", StringComparison.Ordinal) ? clientId : $"{Level}-{clientId}";
        Topic = template.Replace("{quantity}", Level, StringComparison.Ordinal).Replace("{probe}", name, StringComparison.Ordinal)
            .Replace("{incubator}", clientId, StringComparison.Ordinal).Replace("{any}", clientId, StringComparison.Ordinal);
    }

    public string Topic { get; }

    public byte[] Next() => Encoding.ASCII.GetBytes(string.Create(CultureInfo.InvariantCulture, $"{_self} {Interlocked.Increment(ref _sent)}"));

    /// <summary>Whether this topic carries heartbeats, ours or those of another installation at the same broker.</summary>
    public bool Owns(string topic)
        => topic == Topic || topic.Contains(Level, StringComparison.Ordinal);

    /// <summary>Whether it is the newest of our own; an older one, one of an earlier start or of somebody else proves nothing.</summary>
    public bool IsOurs(string topic, in ReadOnlySequence<byte> payload)
    {
        if (topic != Topic || payload.Length > 64)
        {
            return false;
        }

        string[] parts = Encoding.ASCII.GetString(payload).Split(' ');
        if (parts.Length != 2 || parts[0] != _self
            || !long.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out long number)
            || number <= _heard || number > Interlocked.Read(ref _sent))
        {
            return false;
        }

        _heard = number;
        return true;
    }
}
