using Incubation.Core.Readings;

namespace Incubation.Storage.Readings;

/// <summary>Buckets of equal width over [from, to), in Unix milliseconds, that readings and whole minutes are added to.</summary>
internal sealed class BucketSums
{
    private readonly long[] _count;
    private readonly double[] _sum, _least, _greatest;

    public BucketSums(long from, long to, int buckets)
    {
        (From, To) = (from, to);
        WidthMs = Math.Max(1, (to - from + buckets - 1) / buckets);
        (_count, _sum, _least, _greatest) = (new long[buckets], new double[buckets], new double[buckets], new double[buckets]);
    }

    public long From { get; }
    public long To { get; }

    /// <summary>The span cut into the asked-for number, rounded up to a millisecond.</summary>
    public long WidthMs { get; }

    public long IndexOf(long at) => (at - From) / WidthMs;

    public void Add(long at, long count, double sum, double least, double greatest)
    {
        long i = IndexOf(at);
        _least[i] = _count[i] == 0 ? least : Math.Min(_least[i], least);
        _greatest[i] = _count[i] == 0 ? greatest : Math.Max(_greatest[i], greatest);
        _count[i] += count;
        _sum[i] += sum;
    }

    /// <summary>The buckets that hold any reading.</summary>
    public ReadingBuckets Columns()
    {
        List<long> start = [];
        List<double> min = [], mean = [], max = [];
        List<int> count = [];
        for (int i = 0; i < _count.Length; i++)
        {
            if (_count[i] > 0)
            {
                start.Add(From + i * WidthMs);
                min.Add(_least[i]);
                // Rounding of the sum may step past the values by an ulp; a mean never does.
                mean.Add(Math.Clamp(_sum[i] / _count[i], _least[i], _greatest[i]));
                max.Add(_greatest[i]);
                count.Add(checked((int)_count[i]));
            }
        }

        return new ReadingBuckets(WidthMs, start, min, mean, max, count);
    }
}
