namespace Incubation.Core.Readings;

/// <summary>Mean, least and greatest of a stretch of readings, in the quantity's unit.</summary>
public readonly record struct TroubleSum(double Mean, double Least, double Most)
{
    /// <summary>Greatest less least.</summary>
    public double Swing => Most - Least;
}

/// <summary>A ring of stretches of equal width; an old one makes room for the new one in its place.</summary>
internal sealed class TroubleSums(int length, long widthMs)
{
    private readonly long[] _number = NoNumbers(length);
    private readonly double[] _sum = new double[length];
    private readonly int[] _count = new int[length];
    private readonly float[] _least = new float[length], _most = new float[length];

    public void Add(long ms, double value)
    {
        int slot = Open(ms);
        _sum[slot] += value;
        _count[slot]++;
        _least[slot] = Math.Min(_least[slot], (float)value);
        _most[slot] = Math.Max(_most[slot], (float)value);
    }

    public void Set(long ms, double mean, double least, double most)
    {
        int slot = Open(ms);
        (_sum[slot], _count[slot], _least[slot], _most[slot]) = (mean, 1, (float)least, (float)most);
    }

    public TroubleSum? At(long ms)
    {
        int slot = Slot(ms, out long number);
        return _number[slot] == number ? new TroubleSum(_sum[slot] / _count[slot], _least[slot], _most[slot]) : null;
    }

    private int Open(long ms)
    {
        int slot = Slot(ms, out long number);
        if (_number[slot] != number)
        {
            (_number[slot], _sum[slot], _count[slot], _least[slot], _most[slot]) = (number, 0, 0, float.MaxValue, float.MinValue);
        }

        return slot;
    }

    private int Slot(long ms, out long number)
    {
        number = Math.DivRem(ms, widthMs, out long rest) - (rest < 0 ? 1 : 0);
        return (int)(((number % _number.Length) + _number.Length) % _number.Length);
    }

    private static long[] NoNumbers(int length)
    {
        long[] numbers = new long[length];
        Array.Fill(numbers, long.MinValue);
        return numbers;
    }
}
