using System.Buffers;
using Incubation.Core.Readings;
using Incubation.Storage.Readings.Rollups;

namespace Incubation.Storage.Readings.Sealed;

/// <summary>Receives the good readings of a stretch: times in Unix milliseconds, values in the quantity's unit.</summary>
internal delegate void GoodReadings(ReadOnlySpan<long> times, ReadOnlySpan<double> values);

/// <summary>The readings of a sealed day.</summary>
internal readonly ref struct SealedReadings
{
    private readonly NumberReader _times, _numbers, _delays;
    private readonly ReadOnlySpan<byte> _marks;
    private readonly int _runs;
    private readonly ValueScale _scale;

    /// <exception cref="InvalidDataException">It is no sealed day.</exception>
    public SealedReadings(ReadOnlySpan<byte> blob)
    {
        if (blob.Length < 1 + DayColumns.Spare || blob[0] != DayColumns.Format)
        {
            throw new InvalidDataException("A sealed day is of an unknown format.");
        }

        int at = 1;
        // A day of readings a millisecond apart; more can't be.
        Count = Varint.ReadLength(blob, ref at, (int)Spans.Day);
        _runs = Varint.ReadLength(blob, ref at, Count);
        int marksAt = at;
        HasOnlyGood = true;
        int marked = 0;
        for (int i = 0; i < _runs; i++)
        {
            marked += Varint.ReadLength(blob, ref at, Count - marked);
            HasOnlyGood &= ((ReadingMarks)Varint.Read(blob, ref at) & Spans.NotGood) == 0;
        }

        if (marked != Count)
        {
            throw new InvalidDataException("Marks of a sealed day are missing.");
        }

        _marks = blob[marksAt..at];
        _scale = ValueScale.Read(blob, ref at);
        _times = new NumberReader(Column(blob, ref at));
        _numbers = new NumberReader(Column(blob, ref at));
        _delays = new NumberReader(Column(blob, ref at));
    }

    public int Count { get; }

    private bool HasOnlyGood { get; }

    /// <summary>All of it, as it was before it was sealed.</summary>
    public StoredRow[] Rows()
    {
        StoredRow[] rows = new StoredRow[Count];
        long[] times = new long[Count], delays = new long[Count];
        double[] values = new double[Count];
        Columns(times, values, delays);
        int at = 0, i = 0;
        for (int run = 0; run < _runs; run++)
        {
            int until = i + (int)Varint.Read(_marks, ref at);
            ReadingMarks marks = (ReadingMarks)Varint.Read(_marks, ref at);
            for (; i < until; i++)
            {
                rows[i] = new StoredRow(times[i], values[i], unchecked(times[i] + delays[i]), marks);
            }
        }

        return rows;
    }

    /// <summary>Times, values and delays of arrival (ms) of all readings.</summary>
    public void Columns(Span<long> times, Span<double> values, Span<long> delays)
    {
        _times.Read(0, times);
        // The numbers are turned into values in their own place.
        _numbers.Read(0, delays);
        _scale.Values(delays, values);
        _delays.Read(0, delays);
    }

    /// <summary>Hands over the good readings with <paramref name="from"/> ≤ time &lt; <paramref name="to"/>, block by block.</summary>
    public void Good(long from, long to, GoodReadings into)
    {
        long[] times = ArrayPool<long>.Shared.Rent(2 * NumberColumn.Block);
        double[] values = ArrayPool<double>.Shared.Rent(NumberColumn.Block);
        try
        {
            int last = (Count - 1) / NumberColumn.Block;
            for (int block = FirstBlock(from); block <= last; block++)
            {
                int begin = block * NumberColumn.Block, count = Math.Min(NumberColumn.Block, Count - begin);
                Span<long> at = times.AsSpan(0, count), numbers = times.AsSpan(NumberColumn.Block, count);
                _times.Read(block, at);
                if (at[0] >= to)
                {
                    return;
                }

                int first = LowerBound(at, from), end = LowerBound(at, to);
                if (first < end)
                {
                    _numbers.Read(block, numbers[..end]);
                    _scale.Values(numbers[first..end], values.AsSpan(first));
                    Hand(begin, first, end, at, values, into);
                }
            }
        }
        finally
        {
            ArrayPool<long>.Shared.Return(times);
            ArrayPool<double>.Shared.Return(values);
        }
    }

    private void Hand(int begin, int first, int end, ReadOnlySpan<long> times, ReadOnlySpan<double> values, GoodReadings into)
    {
        if (HasOnlyGood)
        {
            into(times[first..end], values[first..end]);
            return;
        }

        int at = 0, run = 0;
        for (int i = 0; i < _runs; i++)
        {
            int from = run - begin;
            run += (int)Varint.Read(_marks, ref at);
            bool good = ((ReadingMarks)Varint.Read(_marks, ref at) & Spans.NotGood) == 0;
            (int a, int b) = (Math.Max(from, first), Math.Min(run - begin, end));
            if (good && a < b)
            {
                into(times[a..b], values[a..b]);
            }
        }
    }

    // The last block that begins at or before a time.
    private int FirstBlock(long from)
    {
        Span<long> start = stackalloc long[1];
        int low = 0, high = (Count - 1) / NumberColumn.Block;
        while (low < high)
        {
            int middle = (low + high + 1) / 2;
            _times.Read(middle, start);
            (low, high) = start[0] <= from ? (middle, high) : (low, middle - 1);
        }

        return low;
    }

    private static int LowerBound(ReadOnlySpan<long> times, long at)
    {
        int low = 0, high = times.Length;
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = times[middle] < at ? (middle + 1, high) : (low, middle);
        }

        return low;
    }

    private static ReadOnlySpan<byte> Column(ReadOnlySpan<byte> blob, scoped ref int at)
    {
        int length = Varint.ReadLength(blob, ref at, blob.Length - at - DayColumns.Spare);
        ReadOnlySpan<byte> column = blob.Slice(at, length);
        at += length;
        return column;
    }
}
