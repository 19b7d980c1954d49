using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>
/// How much neighbouring readings scatter, by hours: how far each lies from the middle of its two neighbours, which a steady slope does not
/// change. Taken as the mean of the lower three quarters of 32 such distances, so that doors and single jumps count for nothing and a coarse
/// step does not make it 0; of the batches of an hour the median.
/// </summary>
public sealed class TroubleScatter
{
    private const int Batch = 32, Batches = 16;
    private const long HourMs = 3_600_000;

    private readonly double[] _distances = new double[Batch];
    private readonly double[] _batches = new double[Batches];
    private readonly long[] _number;
    private readonly float[] _scatter, _interval;
    private int _filled, _batchCount, _readings;
    private long _hour = long.MinValue, _firstMs, _lastMs, _beforeMs;
    private double _last, _before;

    internal TroubleScatter(int hours) => (_number, _scatter, _interval) = (new long[hours], new float[hours], new float[hours]);

    internal void Add(long ms, double value)
    {
        long hour = Math.DivRem(ms, HourMs).Quotient;
        if (hour != _hour)
        {
            Close();
            (_hour, _readings, _firstMs) = (hour, 0, ms);
        }

        // Neighbours that are not about equally far apart (a gap, another interval) say nothing.
        if (_beforeMs != 0 && Even(_lastMs - _beforeMs, ms - _lastMs))
        {
            _distances[_filled++] = Math.Abs(_last - ((_before + value) / 2));
            if (_filled == Batch)
            {
                _filled = 0;
                _batches[_batchCount++ % Batches] = Robust.LowerMean(_distances);
            }
        }

        _readings++;
        (_before, _beforeMs, _last, _lastMs) = (_last, _lastMs, value, ms);
    }

    /// <summary>The scatter of whole hours over [from, to), oldest first, with the mean interval of its readings, seconds.</summary>
    public IReadOnlyList<(Instant Hour, double Scatter, double IntervalSeconds)> Over(Instant from, Instant to)
    {
        List<(Instant Hour, double Scatter, double IntervalSeconds)> found = [];
        long first = from.ToUnixTimeMilliseconds() / HourMs, end = to.ToUnixTimeMilliseconds() / HourMs;
        for (long hour = Math.Max(first, end - _number.Length); hour < end; hour++)
        {
            int slot = (int)(hour % _number.Length);
            if (_number[slot] == hour && hour > 0)
            {
                found.Add((Instant.FromUnixTimeMilliseconds(hour * HourMs), _scatter[slot], _interval[slot]));
            }
        }

        return found;
    }

    private void Close()
    {
        if (_batchCount > 0 && _hour > 0)
        {
            int slot = (int)(_hour % _number.Length);
            _number[slot] = _hour;
            _scatter[slot] = (float)MedianOfBatches();
            _interval[slot] = _readings > 1 ? (float)((_lastMs - _firstMs) / 1000.0 / (_readings - 1)) : 0;
        }

        _batchCount = 0;
    }

    private double MedianOfBatches()
    {
        Span<double> batches = _batches.AsSpan(0, Math.Min(_batchCount, Batches));
        batches.Sort();
        return batches[batches.Length / 2];
    }

    private static bool Even(long a, long b) => a > 0 && b > 0 && a < 2 * b && b < 2 * a;
}
