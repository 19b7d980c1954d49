using System.Buffers.Binary;
using System.Runtime.CompilerServices;

namespace Incubation.Storage.Readings.Sealed;

/// <summary>Writes bits, the first in the highest place of the first byte.</summary>
internal sealed class BitWriter
{
    private readonly List<byte> _bytes = [];
    private int _free;

    /// <summary>Bits written so far.</summary>
    public long Length => _bytes.Count * 8L - _free;

    public void Write(ulong value, int bits)
    {
        while (bits > 0)
        {
            if (_free == 0)
            {
                _bytes.Add(0);
                _free = 8;
            }

            int take = Math.Min(bits, _free);
            ulong part = (value >> (bits - take)) & ((1UL << take) - 1);
            _bytes[^1] |= (byte)(part << (_free - take));
            _free -= take;
            bits -= take;
        }
    }

    public byte[] ToArray() => [.. _bytes];
}

/// <summary>Whole numbers in as few bytes as they need: seven bits a byte, the lowest first (LEB128).</summary>
internal static class Varint
{
    public static void Write(List<byte> into, ulong value)
    {
        for (; value >= 0x80; value >>= 7)
        {
            into.Add((byte)(value | 0x80));
        }

        into.Add((byte)value);
    }

    public static void WriteSigned(List<byte> into, long value) => Write(into, ZigZag(value));

    /// <exception cref="InvalidDataException">It ends too early or is longer than 64 bits.</exception>
    public static ulong Read(ReadOnlySpan<byte> from, ref int at)
    {
        ulong value = 0;
        for (int shift = 0; shift < 64; shift += 7)
        {
            if (at >= from.Length)
            {
                break;
            }

            byte next = from[at++];
            value |= (ulong)(next & 0x7F) << shift;
            if (next < 0x80)
            {
                return value;
            }
        }

        throw new InvalidDataException("A number is cut off.");
    }

    public static long ReadSigned(ReadOnlySpan<byte> from, ref int at) => UnZigZag(Read(from, ref at));

    /// <summary>A length that can't be more than what could be there.</summary>
    public static int ReadLength(ReadOnlySpan<byte> from, ref int at, int most)
    {
        ulong value = Read(from, ref at);
        return value <= (ulong)most ? (int)value : throw new InvalidDataException("A length is out of bounds.");
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ulong ZigZag(long value) => (ulong)((value << 1) ^ (value >> 63));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static long UnZigZag(ulong value) => (long)(value >> 1) ^ -(long)(value & 1);
}

/// <summary>Reads what <see cref="BitWriter"/> wrote; the bytes are followed by eight more that may be read.</summary>
internal static class BitWindow
{
    /// <summary>At least 57 bits from a bit on, left-aligned.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static ulong At(ref byte first, long bit)
    {
        ulong eight = Unsafe.ReadUnaligned<ulong>(ref Unsafe.Add(ref first, (nint)(bit >> 3)));
        return (BitConverter.IsLittleEndian ? BinaryPrimitives.ReverseEndianness(eight) : eight) << (int)(bit & 7);
    }
}
