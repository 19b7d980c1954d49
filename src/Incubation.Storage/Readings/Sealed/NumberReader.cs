using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Incubation.Storage.Readings.Sealed;

/// <summary>Reads a <see cref="NumberColumn"/>, whole or from any block on. The bytes have eight more behind the column that may be read.</summary>
internal sealed class NumberReader
{
    private readonly byte[] _blob;
    private readonly ushort[] _table = [];
    private readonly int _tableBits, _shift, _end;
    private readonly bool _constant;
    private readonly long _first, _step, _leap, _off, _bitsAt;
    private readonly long[] _bits = [], _states = [];

    /// <param name="blob">The bytes that hold it.</param>
    /// <param name="start">Where it begins.</param>
    /// <param name="length">Its bytes.</param>
    /// <param name="numbers">How many numbers it has.</param>
    /// <exception cref="InvalidDataException">It is no column.</exception>
    public NumberReader(byte[] blob, int start, int length, int numbers)
    {
        (_blob, _end) = (blob, start + length);
        ReadOnlySpan<byte> bytes = blob.AsSpan(0, _end);
        int at = start;
        byte kind = length > 0 ? bytes[at++] : throw new InvalidDataException("A column is missing.");
        (_shift, _constant) = (kind & 0x1F, (kind & 0x40) != 0);
        _first = Varint.ReadSigned(bytes, ref at);
        _step = Varint.ReadSigned(bytes, ref at);
        _leap = (long)Varint.Read(bytes, ref at);
        if (_constant)
        {
            _off = Varint.ReadSigned(bytes, ref at);
            return;
        }

        _table = PrefixCode.ReadTable(bytes, ref at, NumberColumn.Symbols, out _tableBits);
        if ((kind & 0x80) != 0)
        {
            int places = Varint.ReadLength(bytes, ref at, bytes.Length - at);
            ReadOnlySpan<byte> upToBits = bytes[..(at + places)];
            int blocks = (numbers + NumberColumn.Block - 1) / NumberColumn.Block;
            (_bits, _states) = (new long[blocks], new long[blocks]);
            _states[0] = _first << _shift;
            for (int block = 1; block < blocks; block++)
            {
                _bits[block] = _bits[block - 1] + (long)(Varint.Read(upToBits, ref at) & int.MaxValue);
                _states[block] = unchecked(_states[block - 1] + Varint.ReadSigned(upToBits, ref at));
            }
        }

        _bitsAt = at * 8L;
    }

    /// <summary>The last block that is expected to begin at or before a number; of a seekable column whose numbers only grow.</summary>
    public int BlockOf(long number)
    {
        if (_constant)
        {
            return 0;
        }

        int low = 0, high = _states.Length - 1;
        while (low < high)
        {
            int middle = (low + high + 1) / 2;
            (low, high) = _states[middle] >> _shift <= number ? (middle, high) : (low, middle - 1);
        }

        return low;
    }

    /// <summary>About how many numbers of a block there are up to one of them, by the usual step; at least a few.</summary>
    public int CountUntil(int block, long number)
    {
        long step = _step >> _shift;
        return _constant || step <= 0 || number > long.MaxValue / 2
            ? NumberColumn.Block
            : (int)Math.Clamp((number - (_states[block] >> _shift)) / step + 8, 8, NumberColumn.Block);
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

        if (block == 0)
        {
            ReadBits(_bitsAt, expected.State, into);
        }
        else
        {
            ReadBits(_bitsAt + _bits[block], _states[block], into);
        }
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
        ref byte first = ref MemoryMarshal.GetArrayDataReference(_blob);
        ref ushort table = ref MemoryMarshal.GetArrayDataReference(_table);
        // Every number takes at least one bit, so a last bit behind the end shows in time whatever the bytes are.
        long end = _end * 8L;
        int unused = 64 - _tableBits, shift = _shift, tableBits = _tableBits;
        long half = 1L << shift >> 1, stepShifted = _step, leap = _leap;
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
