using System.Numerics;

namespace Incubation.Storage.Readings.Sealed;

/// <summary>
/// A column of whole numbers that move little: what is kept of each is how far it is off from where it was expected, in a prefix code of its
/// own. Expected is a running mean of what came before (over about 2^shift numbers; the last one alone when shift is 0) plus the usual step, so
/// that a probe's jitter is paid for once and not twice as with differences of differences. All arithmetic wraps around, so any number is kept.
/// </summary>
internal static class NumberColumn
{
    /// <summary>Numbers between two places where reading can begin.</summary>
    public const int Block = 256;

    /// <summary>Distances below it have a symbol of their own; a greater one has the symbol of its length, and its bits follow.</summary>
    public const int Literals = 128;

    public const int Symbols = Literals + 64 - LiteralBits;
    public const int LiteralBits = 7;

    private static readonly int[] Shifts = [0, 1, 2, 3, 4, 5, 6];

    /// <summary>Appends the column.</summary>
    /// <param name="numbers">At least one.</param>
    /// <param name="seekable">Whether reading may begin at any block; costs about ten bytes each.</param>
    /// <param name="into">What it is appended to.</param>
    public static void Write(ReadOnlySpan<long> numbers, bool seekable, List<byte> into)
    {
        (long step, long leap) = Habit(numbers);
        ulong[] best = [];
        double bestCost = double.PositiveInfinity;
        int bestShift = 0;
        foreach (int shift in Shifts)
        {
            ulong[] distances = Distances(numbers, new Expectation(numbers[0], step, leap, shift));
            double cost = Cost(distances);
            if (cost < bestCost)
            {
                (best, bestCost, bestShift) = (distances, cost, shift);
            }
        }

        bool constant = best.AsSpan().IndexOfAnyExcept(best[0]) < 0;
        into.Add((byte)(bestShift | (constant ? 0x10 : 0) | (seekable ? 0x20 : 0)));
        Varint.WriteSigned(into, numbers[0]);
        Varint.WriteSigned(into, step);
        Varint.Write(into, (ulong)leap);
        if (constant)
        {
            Varint.Write(into, best[0]);
            return;
        }

        WriteBits(numbers, best, new Expectation(numbers[0], step, leap, bestShift), seekable, into);
    }

    private static void WriteBits(ReadOnlySpan<long> numbers, ulong[] distances, Expectation expected, bool seekable, List<byte> into)
    {
        PrefixCode code = PrefixCode.For(Counts(distances));
        BitWriter bits = new();
        List<byte> places = [];
        long atBit = 0, atState = expected.State;
        for (int i = 0; i < distances.Length; i++)
        {
            if (i % Block == 0 && i > 0)
            {
                Varint.Write(places, (ulong)(bits.Length - atBit));
                Varint.WriteSigned(places, expected.State - atState);
                (atBit, atState) = (bits.Length, expected.State);
            }

            ulong distance = distances[i];
            int symbol = SymbolOf(distance);
            code.Write(bits, symbol);
            if (symbol >= Literals)
            {
                bits.Write(distance, symbol - Literals + LiteralBits);
            }

            expected.Saw(numbers[i], Varint.UnZigZag(distance));
        }

        code.WriteLengths(into);
        if (seekable)
        {
            Varint.Write(into, (ulong)places.Count);
            into.AddRange(places);
        }

        into.AddRange(bits.ToArray());
    }

    private static int SymbolOf(ulong distance) =>
        distance < Literals ? (int)distance : Literals + BitOperations.Log2(distance) - LiteralBits;

    private static ulong[] Distances(ReadOnlySpan<long> numbers, Expectation expected)
    {
        ulong[] distances = new ulong[numbers.Length];
        for (int i = 0; i < numbers.Length; i++)
        {
            long off = unchecked(numbers[i] - expected.Next);
            distances[i] = Varint.ZigZag(off);
            expected.Saw(numbers[i], off);
        }

        return distances;
    }

    private static int[] Counts(ulong[] distances)
    {
        int[] counts = new int[Symbols];
        foreach (ulong distance in distances)
        {
            counts[SymbolOf(distance)]++;
        }

        return counts;
    }

    // Bits that an ideal code would take (C. E. Shannon, 1948).
    private static double Cost(ulong[] distances)
    {
        int[] counts = Counts(distances);
        double bits = 0;
        for (int symbol = 0; symbol < counts.Length; symbol++)
        {
            if (counts[symbol] > 0)
            {
                int more = symbol < Literals ? 0 : symbol - Literals + LiteralBits;
                bits += counts[symbol] * (more + Math.Log2((double)distances.Length / counts[symbol]));
            }
        }

        return bits;
    }

    /// <summary>The usual step from one to the next, and the distance beyond which something else happened than jitter.</summary>
    private static (long Step, long Leap) Habit(ReadOnlySpan<long> numbers)
    {
        if (numbers.Length < 2)
        {
            return (0, 0);
        }

        long[] steps = new long[numbers.Length - 1];
        for (int i = 0; i < steps.Length; i++)
        {
            steps[i] = unchecked(numbers[i + 1] - numbers[i]);
        }

        Array.Sort(steps);
        long step = steps[steps.Length / 2];
        for (int i = 0; i < steps.Length; i++)
        {
            steps[i] = (long)Math.Min(long.MaxValue / 64, Varint.ZigZag(unchecked(steps[i] - step)) / 2);
        }

        Array.Sort(steps);
        return (step, 16 + 8 * steps[steps.Length / 2]);
    }
}

/// <summary>Where the next number of a column is expected. Writing and reading step it alike.</summary>
internal struct Expectation
{
    private readonly long _stepShifted, _leap, _half;
    private readonly int _shift;

    public Expectation(long first, long step, long leap, int shift)
    {
        (_stepShifted, _leap, _shift, _half) = (step << shift, leap, shift, 1L << shift >> 1);
        State = first << shift;
    }

    /// <summary>The expected number times 2^shift; the first is expected as it is.</summary>
    public long State { get; set; }

    public readonly long Next => unchecked(State + _half) >> _shift;

    public void Saw(long number, long off) =>
        State = unchecked((off <= _leap && off >= -_leap ? State + off : number << _shift) + _stepShifted);
}
