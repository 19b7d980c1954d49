using Incubation.Core.Readings;
using Incubation.Storage.Readings.Rollups;

namespace Incubation.Storage.Readings.Queries;

/// <summary>
/// Buckets of equal width over [from, to), in Unix milliseconds, that readings and whole spans are added to. What is added lies within one
/// bucket and one piece of the correction; a piece's gain is above 0, so the least stays the least.
/// </summary>
internal sealed class BucketSums
{
    private readonly RollupSum[] _sums;
    private readonly Correction _correction;
    private readonly long[] _changes;
    private CorrectionPiece _piece;
    private long _pieceFrom = long.MinValue, _pieceTo = long.MinValue;

    public BucketSums(long from, long to, int buckets, Correction correction)
    {
        (From, To, _correction) = (from, to, correction);
        WidthMs = Math.Max(1, (to - from + buckets - 1) / buckets);
        _sums = new RollupSum[buckets];
        // A reading in the very millisecond of a change is after it.
        _changes = [.. correction.Pieces.Select(piece => CeilingMs(piece.From)).Where(at => at > from && at < to)];
    }

    public long From { get; }
    public long To { get; }

    /// <summary>The span cut into the asked-for number, rounded up to a millisecond.</summary>
    public long WidthMs { get; }

    /// <summary>Where the bucket, or the piece of the correction, that holds a time ends.</summary>
    public long EndOf(long at)
    {
        FindPiece(at);
        return Math.Min(Math.Min(_pieceTo, To), From + ((at - From) / WidthMs + 1) * WidthMs);
    }

    public void Add(long at, in RollupSum sum)
    {
        FindPiece(at);
        ref RollupSum bucket = ref _sums[(at - From) / WidthMs];
        bucket = bucket.With(_correction.IsNone ? sum : new RollupSum(
            sum.Count, _piece.Gain * sum.Total + sum.Count * _piece.Offset, _piece.Apply(sum.Least), _piece.Apply(sum.Greatest)));
    }

    /// <summary>Adds readings in time order, which may lie in several buckets and pieces.</summary>
    public void Add(ReadOnlySpan<long> times, ReadOnlySpan<double> values)
    {
        for (int i = 0; i < times.Length;)
        {
            long start = times[i], end = EndOf(start);
            RollupSum sum = default;
            for (; i < times.Length && times[i] < end; i++)
            {
                sum = sum.With(values[i]);
            }

            Add(start, sum);
        }
    }

    /// <summary>The buckets that hold any reading.</summary>
    public ReadingBuckets Columns()
    {
        int filled = _sums.Count(sum => sum.Count > 0);
        List<long> start = new(filled);
        List<double> min = new(filled), mean = new(filled), max = new(filled);
        List<int> count = new(filled);
        for (int i = 0; i < _sums.Length; i++)
        {
            RollupSum sum = _sums[i];
            if (sum.Count > 0)
            {
                start.Add(From + i * WidthMs);
                min.Add(sum.Least);
                // Rounding of the sum may step past the values by an ulp; a mean never does.
                mean.Add(Math.Clamp(sum.Total / sum.Count, sum.Least, sum.Greatest));
                max.Add(sum.Greatest);
                count.Add(checked((int)sum.Count));
            }
        }

        return new ReadingBuckets(WidthMs, start, min, mean, max, count);
    }

    private void FindPiece(long at)
    {
        if (at >= _pieceFrom && at < _pieceTo)
        {
            return;
        }

        int next = 0;
        while (next < _changes.Length && _changes[next] <= at)
        {
            next++;
        }

        _pieceFrom = next == 0 ? long.MinValue : _changes[next - 1];
        _pieceTo = next < _changes.Length ? _changes[next] : long.MaxValue;
        _piece = _correction.At(NodaTime.Instant.FromUnixTimeMilliseconds(at));
    }

    /// <summary>The first whole millisecond that is not before a moment.</summary>
    public static long CeilingMs(NodaTime.Instant at)
    {
        long floor = at.ToUnixTimeMilliseconds();
        return NodaTime.Instant.FromUnixTimeMilliseconds(floor) == at ? floor : floor + 1;
    }
}
