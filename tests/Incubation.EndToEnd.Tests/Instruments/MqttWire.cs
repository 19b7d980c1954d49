using System.Buffers.Binary;
using System.Text;

namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>
/// The few MQTT 3.1.1 packets that the load needs. Source: OASIS MQTT Version 3.1.1 (2014), sections 2.2.3 (remaining length), 3.1 (CONNECT),
/// 3.3 (PUBLISH), 3.4 (PUBACK), 3.8 (SUBSCRIBE).
/// </summary>
internal static class MqttWire
{
    public const byte ConnectAcknowledged = 0x20;
    public const byte PublishAcknowledged = 0x40;
    public const byte SubscribeAcknowledged = 0x90;

    public static byte[] Connect(string clientId)
    {
        byte[] id = Encoding.UTF8.GetBytes(clientId);
        byte[] body = [0, 4, (byte)'M', (byte)'Q', (byte)'T', (byte)'T', 4, 2 /* clean session */, 0, 60, 0, 0, .. id];
        BinaryPrimitives.WriteUInt16BigEndian(body.AsSpan(10), (ushort)id.Length);
        return [0x10, .. Length(body.Length), .. body];
    }

    /// <summary>The same with a user and a password (3.1.2.8, 3.1.2.9).</summary>
    public static byte[] Connect(string clientId, string user, string password)
    {
        byte[] body = [.. Text("MQTT"), 4, 0xC2, 0, 60, .. Text(clientId), .. Text(user), .. Text(password)];
        return [0x10, .. Length(body.Length), .. body];
    }

    public static byte[] Subscribe(ushort packet, string filter, byte quality)
    {
        byte[] name = Encoding.UTF8.GetBytes(filter);
        byte[] body = [(byte)(packet >> 8), (byte)packet, (byte)(name.Length >> 8), (byte)name.Length, .. name, quality];
        return [0x82, .. Length(body.Length), .. body];
    }

    /// <summary>Writes one QoS 1 PUBLISH and returns its length.</summary>
    public static int Publish(Span<byte> into, ReadOnlySpan<byte> topic, ReadOnlySpan<byte> payload, ushort packet)
    {
        into[0] = 0x32;
        int at = 1 + WriteLength(into[1..], 2 + topic.Length + 2 + payload.Length);
        BinaryPrimitives.WriteUInt16BigEndian(into[at..], (ushort)topic.Length);
        topic.CopyTo(into[(at + 2)..]);
        at += 2 + topic.Length;
        BinaryPrimitives.WriteUInt16BigEndian(into[at..], packet);
        payload.CopyTo(into[(at + 2)..]);
        return at + 2 + payload.Length;
    }

    /// <summary>Length of the packet at the start of the bytes, or 0 when it is not all there yet.</summary>
    public static int PacketLength(ReadOnlySpan<byte> bytes, out int header)
    {
        int length = 0;
        header = 1;
        for (int shift = 0; header < bytes.Length && shift <= 21; shift += 7)
        {
            byte next = bytes[header++];
            length |= (next & 0x7F) << shift;
            if ((next & 0x80) == 0)
            {
                return header + length <= bytes.Length ? header + length : 0;
            }
        }

        return 0;
    }

    private static byte[] Text(string text)
    {
        byte[] bytes = Encoding.UTF8.GetBytes(text);
        return [(byte)(bytes.Length >> 8), (byte)bytes.Length, .. bytes];
    }

    private static byte[] Length(int length)
    {
        byte[] room = new byte[4];
        return room[..WriteLength(room, length)];
    }

    private static int WriteLength(Span<byte> into, int length)
    {
        int at = 0;
        do
        {
            into[at++] = (byte)((length & 0x7F) | (length > 0x7F ? 0x80 : 0));
            length >>= 7;
        }
        while (length > 0);
        return at;
    }
}
