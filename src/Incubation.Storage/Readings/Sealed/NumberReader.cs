using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Incubation.Storage.Readings.Sealed;

/// <summary>Reads a <see cref="NumberColumn"/>, whole or from any block on. The bytes have eight more behind the column that may be read.</summary>
internal readonly ref struct NumberReader
{
    private readonly ReadOnlySpan<byte> _bytes;
    private readonly ushort[] _table;
    private readonly int _tableBits, _shift, _placesAt, _bitsAt;
    private readonly bool _constant, _seekable;
    private readonly long _first, _step, _leap, _off;

    /// <exception cref="InvalidDataException">It is no column.</exception>
    public NumberReader(ReadOnlySpan<byte> bytes)
    {
        _bytes = bytes;
        _table = [];
        int at = 0;
        byte kind = bytes.Length > 0 ? bytes[at++] : throw new InvalidDataException("A column is missing.");
        (_shift, _constant, _seekable) = (kind & 0x0F, (kind & 0x10) != 0, (kind & 0x20) != 0);
        _first = Varint.ReadSigned(bytes, ref at);
        _step = Varint.ReadSigned(bytes, ref at);
        _leap = (long)Varint.Read(bytes, ref at);
        if (_constant)
        {
            _off = Varint.ReadSigned(bytes, ref at);
            return;
        }

        _table = PrefixCode.ReadTable(bytes, ref at, NumberColumn.Symbols, out _tableBits);
        if (_seekable)
        {
            int places = Varint.ReadLength(bytes, ref at, bytes.Length - at);
            (_placesAt, at) = (at, at + places);
        }

        _bitsAt = at;
    }

    /// <summary>Reads numbers from the start of a block on.</summary>
    /// <param name="block">0 for the column's start; another only in a seekable column.</param>
    /// <param name="into">As many as are wanted.</param>
    /// <exception cref="InvalidDataException">The column ends before.</exception>
    public void Read(int block, Span<long> into)
    {
        Expectation expected = new(_first, _step, _leap, _shift);
        if (_constant)
        {
            ReadConstant(block * NumberColumn.Block, into, expected);
            return;
        }

        long bit = 0, state = expected.State;
        if (block > 0)
        {
            int at = _placesAt;
            for (int i = 0; i < block; i++)
            {
                bit += (long)Varint.Read(_bytes, ref at);
                state += Varint.ReadSigned(_bytes, ref at);
            }
        }

        ReadBits(_bitsAt * 8L + bit, state, into);
    }

    private void ReadConstant(int before, Span<long> into, Expectation expected)
    {
        for (int i = -before; i < into.Length; i++)
        {
            long number = unchecked(expected.Next + _off);
            expected.Saw(number, _off);
            if (i >= 0)
            {
                into[i] = number;
            }
        }
    }

    private void ReadBits(long bit, long state, Span<long> into)
    {
        ref byte first = ref MemoryMarshal.GetReference(_bytes);
        ref ushort table = ref MemoryMarshal.GetArrayDataReference(_table);
        // Every number takes at least one bit, so a last bit behind the end shows in time whatever the bytes are.
        long end = _bytes.Length * 8L;
        int unused = 64 - _tableBits, shift = _shift, tableBits = _tableBits;
        long half = 1L << shift >> 1, stepShifted = _step << shift, leap = _leap;
        for (int from = 0; from < into.Length;)
        {
            int until = Math.Min(into.Length, from + NumberColumn.Block);
            if (bit + (until - from) > end)
            {
                throw new InvalidDataException("A column is cut off.");
            }

            ulong window = 0;
            int left = 0;
            for (int i = from; i < until; i++)
            {
                if (left < tableBits)
                {
                    if (bit > end)
                    {
                        throw new InvalidDataException("A column is cut off.");
                    }

                    window = BitWindow.At(ref first, bit);
                    left = 57;
                }

                uint entry = Unsafe.Add(ref table, (nint)(window >> unused));
                int bits = (int)(entry & 15);
                ulong distance = entry >> 4;
                window <<= bits;
                left -= bits;
                bit += bits;
                if (distance >= NumberColumn.Literals)
                {
                    distance = Long(ref first, ref bit, end, (int)distance - NumberColumn.Literals + NumberColumn.LiteralBits);
                    left = 0;
                }

                long off = Varint.UnZigZag(distance);
                long number = unchecked(((state + half) >> shift) + off);
                into[i] = number;
                state = unchecked((off <= leap && off >= -leap ? state + off : number << shift) + stepShifted);
            }

            from = until;
        }
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static ulong Long(ref byte first, ref long bit, long end, int bits)
    {
        if (bit + bits > end)
        {
            throw new InvalidDataException("A column is cut off.");
        }

        int high = Math.Min(bits, 32), low = bits - high;
        ulong distance = (1UL << high) | (BitWindow.At(ref first, bit) >> (64 - high));
        if (low > 0)
        {
            distance = (distance << low) | (BitWindow.At(ref first, bit + high) >> (64 - low));
        }

        bit += bits;
        return distance;
    }
}
