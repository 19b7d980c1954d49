using Incubation.Core.Readings;

namespace Incubation.Service.Readings;

/// <summary>Columns of one series on the grid of an answer; a bucket that comes in parts is put together.</summary>
internal sealed class HistoryGrid(long originMs, long widthMs)
{
    private readonly List<long> _start = [];
    private readonly List<double> _min = [], _mean = [], _max = [];
    private readonly List<int> _count = [];

    public IReadOnlyList<long> StartMs => _start;

    public IReadOnlyList<double> Min => _min;

    public IReadOnlyList<double> Mean => _mean;

    public IReadOnlyList<double> Max => _max;

    public IReadOnlyList<int> Count => _count;

    /// <summary>The parts of [from, to) between which no bucket of the grid is cut, at most three, with their number of buckets.</summary>
    public IEnumerable<(long FromMs, long ToMs, int Buckets)> Cut(long fromMs, long toMs)
    {
        long first = originMs + (fromMs - originMs + widthMs - 1) / widthMs * widthMs;
        long last = originMs + (toMs - originMs) / widthMs * widthMs;
        (long, long, int)[] parts = first > last
            ? [(fromMs, toMs, 1)]
            : [(fromMs, first, 1), (first, last, (int)((last - first) / widthMs)), (last, toMs, 1)];
        return parts.Where(part => part.Item2 > part.Item1);
    }

    /// <summary>Adds the buckets of a part; parts come in time order.</summary>
    public void Add(ReadingBuckets part)
    {
        for (int i = 0; i < part.StartMs.Count; i++)
        {
            long start = originMs + (part.StartMs[i] - originMs) / widthMs * widthMs;
            if (_start.Count > 0 && _start[^1] == start)
            {
                Join(part.Min[i], part.Mean[i], part.Max[i], part.Count[i]);
                continue;
            }

            _start.Add(start);
            _min.Add(part.Min[i]);
            _mean.Add(part.Mean[i]);
            _max.Add(part.Max[i]);
            _count.Add(part.Count[i]);
        }
    }

    private void Join(double min, double mean, double max, int count)
    {
        int all = _count[^1] + count;
        _mean[^1] += (mean - _mean[^1]) * count / all;
        _min[^1] = Math.Min(_min[^1], min);
        _max[^1] = Math.Max(_max[^1], max);
        _count[^1] = all;
    }
}
