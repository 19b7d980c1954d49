namespace Incubation.Storage.Readings.Sealed;

/// <summary>
/// A canonical prefix code (D. A. Huffman, 1952) with codes of at most <see cref="MostBits"/> bits, so that one look into a small table reads a
/// symbol. Stored as the length of each symbol's code.
/// </summary>
internal sealed class PrefixCode
{
    public const int MostBits = 11;

    private readonly byte[] _lengths;
    private readonly ushort[] _codes;

    private PrefixCode(byte[] lengths)
    {
        _lengths = lengths;
        _codes = new ushort[lengths.Length];
        int code = 0;
        for (int bits = 1; bits <= MostBits; bits++)
        {
            for (int symbol = 0; symbol < lengths.Length; symbol++)
            {
                if (lengths[symbol] == bits)
                {
                    _codes[symbol] = (ushort)code++;
                }
            }

            code <<= 1;
        }
    }

    /// <summary>The best code for symbols that occur so often. One symbol alone takes no bits at all.</summary>
    public static PrefixCode For(ReadOnlySpan<int> counts)
    {
        int[] flattened = counts.ToArray();
        while (true)
        {
            byte[] lengths = Lengths(flattened);
            if (lengths.Max() <= MostBits)
            {
                return new PrefixCode(lengths);
            }

            // Too long for a rare symbol: with the counts nearer to each other the tree is flatter.
            for (int i = 0; i < flattened.Length; i++)
            {
                flattened[i] = flattened[i] > 0 ? flattened[i] / 2 + 1 : 0;
            }
        }
    }

    public int Bits(int symbol) => _lengths[symbol];

    public void Write(BitWriter into, int symbol) => into.Write(_codes[symbol], _lengths[symbol]);

    /// <summary>Lengths as nibbles; 15 is followed by a count of zeros in eight bits.</summary>
    public void WriteLengths(List<byte> into)
    {
        BitWriter bits = new();
        for (int symbol = 0; symbol < _lengths.Length;)
        {
            int zeros = 0;
            while (symbol + zeros < _lengths.Length && zeros < 255 && _lengths[symbol + zeros] == 0)
            {
                zeros++;
            }

            if (zeros > 2)
            {
                bits.Write(15, 4);
                bits.Write((ulong)zeros, 8);
                symbol += zeros;
            }
            else
            {
                bits.Write(_lengths[symbol++], 4);
            }
        }

        byte[] bytes = bits.ToArray();
        Varint.Write(into, (ulong)bytes.Length);
        into.AddRange(bytes);
    }

    /// <summary>Table for reading: each entry is the symbol shifted by four, and the bits of its code.</summary>
    /// <param name="from">Bytes with the lengths.</param>
    /// <param name="at">Where they start; moved past them.</param>
    /// <param name="symbols">How many symbols there are.</param>
    /// <param name="bits">Bits that index the table.</param>
    /// <exception cref="InvalidDataException">The lengths are no code.</exception>
    public static ushort[] ReadTable(ReadOnlySpan<byte> from, ref int at, int symbols, out int bits)
    {
        int bytes = Varint.ReadLength(from, ref at, from.Length - at);
        Span<byte> lengths = stackalloc byte[symbols];
        Expand(from.Slice(at, bytes), lengths);
        at += bytes;
        return Table(lengths, out bits);
    }

    private static ushort[] Table(ReadOnlySpan<byte> lengths, out int bits)
    {
        Span<int> next = stackalloc int[16];
        next.Clear();
        foreach (byte length in lengths)
        {
            next[length]++;
        }

        bits = 15;
        while (bits > 1 && next[bits] == 0)
        {
            bits--;
        }

        if (bits > MostBits)
        {
            throw new InvalidDataException("A code is too long.");
        }

        // From how many codes there are of each length to where the first of them stands in the table.
        int filled = 0;
        for (int length = 1; length <= bits; length++)
        {
            (next[length], filled) = (filled, filled + (next[length] << (bits - length)));
        }

        if (filled != 1 << bits)
        {
            throw new InvalidDataException("The lengths are no code.");
        }

        ushort[] table = new ushort[1 << bits];
        for (int symbol = 0; symbol < lengths.Length; symbol++)
        {
            int length = lengths[symbol];
            if (length > 0)
            {
                table.AsSpan(next[length], 1 << (bits - length)).Fill((ushort)((symbol << 4) | length));
                next[length] += 1 << (bits - length);
            }
        }

        return table;
    }

    private static void Expand(ReadOnlySpan<byte> from, Span<byte> lengths)
    {
        int nibble = 0, symbol = 0;
        while (symbol < lengths.Length)
        {
            int length = Next(from, ref nibble);
            if (length == 15)
            {
                int zeros = (Next(from, ref nibble) << 4) | Next(from, ref nibble);
                if (zeros == 0 || symbol + zeros > lengths.Length)
                {
                    throw new InvalidDataException("The lengths are no code.");
                }

                lengths.Slice(symbol, zeros).Clear();
                symbol += zeros;
            }
            else
            {
                lengths[symbol++] = (byte)length;
            }
        }

        static int Next(ReadOnlySpan<byte> from, ref int nibble)
        {
            if (nibble / 2 >= from.Length)
            {
                throw new InvalidDataException("The lengths are cut off.");
            }

            int value = nibble % 2 == 0 ? from[nibble / 2] >> 4 : from[nibble / 2] & 15;
            nibble++;
            return value;
        }
    }

    private static byte[] Lengths(int[] counts)
    {
        byte[] lengths = new byte[counts.Length];
        PriorityQueue<int[], (long, int)> trees = new();
        for (int symbol = 0; symbol < counts.Length; symbol++)
        {
            if (counts[symbol] > 0)
            {
                trees.Enqueue([symbol], (counts[symbol], symbol));
            }
        }

        // A lone symbol still gets a code of one bit, and the unused other half goes to its neighbour: a table has no holes.
        if (trees.Count == 1)
        {
            int only = trees.Dequeue()[0];
            lengths[only] = 1;
            lengths[only == 0 ? 1 : only - 1] = 1;
            return lengths;
        }

        while (trees.Count > 1)
        {
            trees.TryDequeue(out int[]? one, out (long Count, int) first);
            trees.TryDequeue(out int[]? other, out (long Count, int) second);
            int[] both = [.. one!, .. other!];
            foreach (int symbol in both)
            {
                lengths[symbol]++;
            }

            trees.Enqueue(both, (first.Count + second.Count, counts.Length + trees.Count));
        }

        return lengths;
    }
}
