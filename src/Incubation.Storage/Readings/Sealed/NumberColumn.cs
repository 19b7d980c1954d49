using System.Numerics;

namespace Incubation.Storage.Readings.Sealed;

/// <summary>
/// A column of whole numbers that move little: what is kept of each is how far it is off from where it was expected, in a prefix code of its
/// own. Expected is a running mean of what came before (over about 2^shift numbers: the last one alone for 0, all of them for 20) plus the usual step, so
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

    private const long NoLeap = long.MaxValue / 64;

    private static readonly int[] Shifts = [0, 1, 2, 3, 4, 5, 6, 8, 20];

    /// <summary>Appends the column.</summary>
    /// <param name="numbers">At least one.</param>
    /// <param name="seekable">Whether reading may begin at any block; costs about ten bytes each.</param>
    /// <param name="into">What it is appended to.</param>
    public static void Write(ReadOnlySpan<long> numbers, bool seekable, List<byte> into)
    {
        Habit habit = Habit.Of(numbers);
        ulong[] best = [];
        double bestCost = double.PositiveInfinity;
        Expectation expected = default;
        foreach (Expectation tried in Tries(habit, numbers))
        {
            ulong[] distances = Distances(numbers, tried);
            double cost = Cost(distances);
            if (cost < bestCost)
            {
                (best, bestCost, expected) = (distances, cost, tried);
            }
        }

        bool constant = best.AsSpan().IndexOfAnyExcept(best[0]) < 0;
        into.Add((byte)(expected.Shift | (constant ? 0x40 : 0) | (seekable ? 0x80 : 0)));
        Varint.WriteSigned(into, expected.First);
        Varint.WriteSigned(into, expected.StepShifted);
        Varint.Write(into, (ulong)expected.Leap);
        if (constant)
        {
            Varint.Write(into, best[0]);
            return;
        }

        WriteBits(numbers, best, expected, seekable, into);
    }

    // After a gap the expectation starts anew from where the number leapt to; after a single late arrival it had better not.
    private static List<Expectation> Tries(Habit habit, ReadOnlySpan<long> numbers)
    {
        List<Expectation> tries = [];
        foreach (int shift in Shifts)
        {
            long origin = habit.Origin(numbers, shift), mean = (long)Math.Round(habit.Mean * (1L << shift));
            tries.Add(new Expectation(origin, shift == 0 ? habit.Median : mean, habit.Leap, shift));
            if (shift >= 4)
            {
                tries.Add(new Expectation(origin, mean, NoLeap, shift));
                tries.Add(new Expectation(origin, habit.Median << shift, NoLeap, shift));
            }
        }

        return tries;
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
}

/// <summary>How a column's numbers follow each other.</summary>
/// <param name="Median">The usual step.</param>
/// <param name="Mean">The mean of the steps near it: a probe's 10 s are 10.0003 s.</param>
/// <param name="Leap">Distance beyond which something else happened than jitter.</param>
internal readonly record struct Habit(long Median, double Mean, long Leap)
{
    // Steps as long as a column of doubles' bits has are no habit.
    private const long MostStep = 1L << 40;

    public static Habit Of(ReadOnlySpan<long> numbers)
    {
        if (numbers.Length < 2)
        {
            return default;
        }

        long[] steps = new long[numbers.Length - 1];
        for (int i = 0; i < steps.Length; i++)
        {
            steps[i] = unchecked(numbers[i + 1] - numbers[i]);
        }

        Array.Sort(steps);
        long median = steps[steps.Length / 2];
        if (median is > MostStep or < -MostStep)
        {
            return default;
        }

        long[] off = [.. steps.Select(step => (long)Math.Min(MostStep, Varint.ZigZag(unchecked(step - median)) / 2))];
        Array.Sort(off);
        long leap = 16 + 8 * off[off.Length / 2];
        return new Habit(median, steps.Where(step => step >= median - leap && step <= median + leap).Average(), leap);
    }

    /// <summary>Where the first number would have been without its own jitter, as the next few see it.</summary>
    public long Origin(ReadOnlySpan<long> numbers, int shift)
    {
        if (shift == 0 || this == default)
        {
            return numbers[0];
        }

        long[] seen = new long[Math.Min(numbers.Length, 64)];
        for (int i = 0; i < seen.Length; i++)
        {
            seen[i] = unchecked(numbers[i] - (long)Math.Round(Mean * i));
        }

        Array.Sort(seen);
        return seen[seen.Length / 2];
    }
}

/// <summary>Where the next number of a column is expected. Writing and reading step it alike.</summary>
internal struct Expectation
{
    private readonly long _half;

    public Expectation(long first, long stepShifted, long leap, int shift)
    {
        (First, StepShifted, Leap, Shift, _half) = (first, stepShifted, leap, shift, 1L << shift >> 1);
        State = first << shift;
    }

    public long First { get; }

    /// <summary>The usual step times 2^shift.</summary>
    public long StepShifted { get; }

    /// <summary>A number further off than this is where the expectation starts anew.</summary>
    public long Leap { get; }

    /// <summary>How slowly the expectation follows; 0 to 31.</summary>
    public int Shift { get; }

    /// <summary>The expected number times 2^shift.</summary>
    public long State { get; set; }

    public readonly long Next => unchecked(State + _half) >> Shift;

    public void Saw(long number, long off) =>
        State = unchecked((off <= Leap && off >= -Leap ? State + off : number << Shift) + StepShifted);
}
