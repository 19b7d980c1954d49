using System.Buffers.Binary;
using System.Numerics;

namespace Incubation.Storage.Readings.Spool;

/// <summary>
/// A frame of the spool file: 4 bytes length of its body, 4 bytes checksum, 8 bytes sequence number, body; little-endian. The checksum
/// (CRC-32C, begun with the file's own random salt and the checksum of the frame before) covers length, sequence and body: a frame that was
/// torn, that is left over from a former filling or a failed writing, or that somebody hid in a name is none.
/// </summary>
internal static class SpoolFrame
{
    public const int HeaderBytes = 16;

    /// <summary>Writes the header before a body that stands at <see cref="HeaderBytes"/>; returns the checksum.</summary>
    public static uint Seal(Span<byte> frame, ulong salt, uint before, ulong sequence)
    {
        BinaryPrimitives.WriteUInt32LittleEndian(frame, (uint)(frame.Length - HeaderBytes));
        BinaryPrimitives.WriteUInt64LittleEndian(frame[8..], sequence);
        uint sum = Checksum(frame, salt, before);
        BinaryPrimitives.WriteUInt32LittleEndian(frame[4..], sum);
        return sum;
    }

    /// <summary>Length of the body that a header tells of, or −1 when it is not the header of that sequence number.</summary>
    public static int BodyLength(ReadOnlySpan<byte> header, ulong sequence, long mostBytes)
    {
        uint length = BinaryPrimitives.ReadUInt32LittleEndian(header);
        return length > 0 && length <= mostBytes && BinaryPrimitives.ReadUInt64LittleEndian(header[8..]) == sequence ? (int)length : -1;
    }

    /// <summary>Whether the frame is as it was sealed, right behind the one before.</summary>
    public static bool IsWhole(ReadOnlySpan<byte> frame, ulong salt, uint before, out uint sum)
    {
        sum = Checksum(frame, salt, before);
        return BinaryPrimitives.ReadUInt32LittleEndian(frame[4..]) == sum;
    }

    /// <summary>CRC-32C of some bytes, begun with a salt.</summary>
    public static uint Checksum(ReadOnlySpan<byte> bytes, uint begin)
    {
        uint sum = begin;
        for (; bytes.Length >= sizeof(ulong); bytes = bytes[sizeof(ulong)..])
        {
            sum = BitOperations.Crc32C(sum, BinaryPrimitives.ReadUInt64LittleEndian(bytes));
        }

        foreach (byte one in bytes)
        {
            sum = BitOperations.Crc32C(sum, one);
        }

        return sum;
    }

    private static uint Checksum(ReadOnlySpan<byte> frame, ulong salt, uint before)
    {
        uint sum = BitOperations.Crc32C(BitOperations.Crc32C(uint.MaxValue, salt), before);
        sum = BitOperations.Crc32C(sum, BinaryPrimitives.ReadUInt32LittleEndian(frame));
        return ~Checksum(frame[8..], sum);
    }
}
