using System.Buffers.Binary;
using System.Numerics;
using System.Runtime.InteropServices;

namespace Incubation.Storage.Readings.Sealed;

/// <summary>How the values of a day became whole numbers.</summary>
internal enum ValueKind : byte
{
    /// <summary>Multiples of a decimal step, such as 0.01 or 0.0625: the probe's own resolution.</summary>
    Decimal = 0,

    /// <summary>Places in a list of the few values that there are, such as those of a probe that speaks in °F.</summary>
    List = 1,

    /// <summary>The bits of the double itself.</summary>
    Bits = 2,
}

/// <summary>Turns values into small whole numbers and back, to the last bit. What no step fits is kept by other means.</summary>
internal sealed class ValueScale
{
    private const int MostDigits = 6, MostListed = 2_048;
    private const double MostUnits = 1L << 50;

    private static readonly double[] Powers = [1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6];

    private readonly double[] _list = [];

    private ValueScale(ValueKind kind, int digits, long origin, long step, double[] list) =>
        (Kind, Digits, Origin, Step, _list) = (kind, digits, origin, step, list);

    public ValueKind Kind { get; }

    /// <summary>Decimal places.</summary>
    public int Digits { get; }

    /// <summary>What number 0 stands for, in units of the last place.</summary>
    public long Origin { get; }

    /// <summary>Units of the last place from one number to the next.</summary>
    public long Step { get; }

    public static ValueScale For(ReadOnlySpan<double> values, Span<long> numbers)
    {
        for (int digits = 0; digits <= MostDigits; digits++)
        {
            if (TryDecimal(values, Powers[digits], numbers))
            {
                (long origin, long step) = (numbers[0], 0);
                foreach (long number in numbers)
                {
                    step = step == 1 ? 1 : (long)BigInteger.GreatestCommonDivisor(step, number - origin);
                }

                step = Math.Max(step, 1);
                for (int i = 0; i < numbers.Length; i++)
                {
                    numbers[i] = (numbers[i] - origin) / step;
                }

                return new ValueScale(ValueKind.Decimal, digits, origin, step, []);
            }
        }

        return Listed(values, numbers) ?? AsBits(values, numbers);
    }

    public void Write(List<byte> into)
    {
        into.Add((byte)Kind);
        switch (Kind)
        {
            case ValueKind.Decimal:
                into.Add((byte)Digits);
                Varint.WriteSigned(into, Origin);
                Varint.Write(into, (ulong)Step);
                break;
            case ValueKind.List:
                Varint.Write(into, (ulong)_list.Length);
                into.AddRange(MemoryMarshal.AsBytes(_list.AsSpan()));
                break;
        }
    }

    /// <exception cref="InvalidDataException">It is no scale.</exception>
    public static ValueScale Read(ReadOnlySpan<byte> from, ref int at)
    {
        if (at + 2 > from.Length)
        {
            throw new InvalidDataException("A scale is cut off.");
        }

        switch ((ValueKind)from[at++])
        {
            case ValueKind.Decimal when from[at] <= MostDigits:
                int digits = from[at++];
                return new ValueScale(ValueKind.Decimal, digits, Varint.ReadSigned(from, ref at), (long)Varint.Read(from, ref at), []);
            case ValueKind.List:
                double[] list = new double[Varint.ReadLength(from, ref at, (from.Length - at) / sizeof(double))];
                for (int i = 0; i < list.Length; i++, at += sizeof(double))
                {
                    list[i] = BinaryPrimitives.ReadDoubleLittleEndian(from[at..]);
                }

                return new ValueScale(ValueKind.List, 0, 0, 0, list);
            case ValueKind.Bits:
                return new ValueScale(ValueKind.Bits, 0, 0, 0, []);
            default:
                throw new InvalidDataException("A scale is of an unknown kind.");
        }
    }

    /// <summary>The values that the numbers stand for.</summary>
    /// <exception cref="InvalidDataException">A number stands for none.</exception>
    public void Values(ReadOnlySpan<long> numbers, Span<double> values)
    {
        switch (Kind)
        {
            case ValueKind.Decimal:
                double power = Powers[Digits];
                (long origin, long step) = (Origin, Step);
                for (int i = 0; i < numbers.Length; i++)
                {
                    values[i] = (origin + step * numbers[i]) / power;
                }

                break;
            case ValueKind.List:
                for (int i = 0; i < numbers.Length; i++)
                {
                    values[i] = (ulong)numbers[i] < (ulong)_list.Length
                        ? _list[numbers[i]]
                        : throw new InvalidDataException("A value is not on the list.");
                }

                break;
            default:
                for (int i = 0; i < numbers.Length; i++)
                {
                    values[i] = BitConverter.Int64BitsToDouble(numbers[i]);
                }

                break;
        }
    }

    /// <summary>What a number, or a sum of <paramref name="count"/> of them, stands for; of a decimal scale only.</summary>
    public double Value(long number, long count = 1) => (Origin * count + Step * number) / Powers[Digits];

    // A decimal is the double nearest to it, and so is the quotient of two whole numbers: same bits, or it is none.
    private static bool TryDecimal(ReadOnlySpan<double> values, double power, Span<long> numbers)
    {
        for (int i = 0; i < values.Length; i++)
        {
            double units = Math.Round(values[i] * power);
            if (!(Math.Abs(units) < MostUnits) || BitConverter.DoubleToInt64Bits((long)units / power) != BitConverter.DoubleToInt64Bits(values[i]))
            {
                return false;
            }

            numbers[i] = (long)units;
        }

        return true;
    }

    private static ValueScale? Listed(ReadOnlySpan<double> values, Span<long> numbers)
    {
        Dictionary<long, int> places = [];
        foreach (double value in values)
        {
            places.TryAdd(BitConverter.DoubleToInt64Bits(value), 0);
            if (places.Count > MostListed)
            {
                return null;
            }
        }

        double[] list = [.. places.Keys.Select(BitConverter.Int64BitsToDouble).Order()];
        for (int i = 0; i < list.Length; i++)
        {
            places[BitConverter.DoubleToInt64Bits(list[i])] = i;
        }

        for (int i = 0; i < values.Length; i++)
        {
            numbers[i] = places[BitConverter.DoubleToInt64Bits(values[i])];
        }

        return new ValueScale(ValueKind.List, 0, 0, 0, list);
    }

    private static ValueScale AsBits(ReadOnlySpan<double> values, Span<long> numbers)
    {
        for (int i = 0; i < values.Length; i++)
        {
            numbers[i] = BitConverter.DoubleToInt64Bits(values[i]);
        }

        return new ValueScale(ValueKind.Bits, 0, 0, 0, []);
    }
}
