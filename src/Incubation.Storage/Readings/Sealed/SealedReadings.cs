using Incubation.Core.Readings;
using Incubation.Storage.Readings.Rollups;

namespace Incubation.Storage.Readings.Sealed;

/// <summary>Receives the good readings of a stretch: times in Unix milliseconds, values in the quantity's unit.</summary>
internal delegate void GoodReadings(ReadOnlySpan<long> times, ReadOnlySpan<double> values);

/// <summary>The readings of a sealed day. Never changes, so many may read it at once.</summary>
internal sealed class SealedReadings
{
    private readonly NumberReader _times, _numbers, _delays;
    private readonly (int Until, ReadingMarks Marks)[] _runs;
    private readonly ValueScale _scale;
    private readonly bool _onlyGood = true;

    /// <exception cref="InvalidDataException">It is no sealed day.</exception>
    public SealedReadings(byte[] blob)
    {
        if (blob.Length < 1 + DayColumns.Spare || blob[0] != DayColumns.Format)
        {
            throw new InvalidDataException("A sealed day is of an unknown format.");
        }

        int at = 1;
        // A day of readings a millisecond apart; more can't be.
        Count = Varint.ReadLength(blob, ref at, (int)Spans.Day);
        _runs = new (int, ReadingMarks)[Varint.ReadLength(blob, ref at, Math.Min(Count, blob.Length))];
        int marked = 0;
        for (int i = 0; i < _runs.Length; i++)
        {
            marked += Varint.ReadLength(blob, ref at, Count - marked);
            _runs[i] = (marked, (ReadingMarks)Varint.Read(blob, ref at));
            _onlyGood &= (_runs[i].Marks & Spans.NotGood) == 0;
        }

        if (marked != Count || Count == 0 || Count > blob.Length * 8L * NumberColumn.Block)
        {
            throw new InvalidDataException("Marks of a sealed day are missing.");
        }

        _scale = ValueScale.Read(blob, ref at);
        _times = Column(blob, ref at);
        _numbers = Column(blob, ref at);
        _delays = Column(blob, ref at);
        Bytes = blob.Length + 16_000;
    }

    public int Count { get; }

    /// <summary>About what it takes in memory, with the tables of its codes.</summary>
    public int Bytes { get; }

    /// <summary>All of it, as it was before it was sealed.</summary>
    public StoredRow[] Rows()
    {
        StoredRow[] rows = new StoredRow[Count];
        long[] times = new long[Count], delays = new long[Count];
        double[] values = new double[Count];
        Columns(times, values, delays);
        int i = 0;
        foreach ((int until, ReadingMarks marks) in _runs)
        {
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
        // The numbers are turned into values before their place is used again.
        _numbers.Read(0, delays);
        _scale.Values(delays, values);
        _delays.Read(0, delays);
    }

    /// <summary>Hands over the good readings with <paramref name="from"/> ≤ time &lt; <paramref name="to"/>, block by block.</summary>
    public void Good(long from, long to, BlockScratch scratch, GoodReadings into)
    {
        int last = (Count - 1) / NumberColumn.Block, block = Math.Min(_times.BlockOf(from), last);
        Load(block, to, scratch);
        // Where a block begins is only expected; the one before may hold a few of them.
        while (block > 0 && scratch.Times[0] > from)
        {
            Load(--block, to, scratch);
        }

        for (; block <= last; block++)
        {
            Load(block, to, scratch);
            ReadOnlySpan<long> times = scratch.Times.AsSpan(0, scratch.Count);
            if (times[0] >= to)
            {
                return;
            }

            Hand(block * NumberColumn.Block, LowerBound(times, from), LowerBound(times, to), scratch, into);
            if (times[^1] >= to)
            {
                // The next block stays packed, and this one at hand for whoever asks for what follows.
                return;
            }
        }
    }

    // As much of a block as reaches a time, and a minute more for whoever asks for what follows.
    private void Load(int block, long to, BlockScratch scratch)
    {
        int whole = Math.Min(NumberColumn.Block, Count - block * NumberColumn.Block);
        if (scratch.Owner == this && scratch.Block == block && (scratch.Count == whole || scratch.Times[scratch.Count - 1] >= to))
        {
            return;
        }

        int reaching = Math.Min(whole, _times.CountUntil(block, to + Spans.Minute));
        _times.Read(block, scratch.Times.AsSpan(0, reaching));
        if (reaching < whole && scratch.Times[reaching - 1] < to)
        {
            reaching = whole;
            _times.Read(block, scratch.Times.AsSpan(0, whole));
        }

        _numbers.Read(block, scratch.Numbers.AsSpan(0, reaching));
        _scale.Values(scratch.Numbers.AsSpan(0, reaching), scratch.Values);
        (scratch.Owner, scratch.Block, scratch.Count) = (this, block, reaching);
    }

    private void Hand(int begin, int first, int end, BlockScratch scratch, GoodReadings into)
    {
        if (first >= end)
        {
            return;
        }

        if (_onlyGood)
        {
            into(scratch.Times.AsSpan(first..end), scratch.Values.AsSpan(first..end));
            return;
        }

        int from = 0;
        foreach ((int until, ReadingMarks marks) in _runs)
        {
            (int a, int b) = (Math.Max(from - begin, first), Math.Min(until - begin, end));
            if (a < b && (marks & Spans.NotGood) == 0)
            {
                into(scratch.Times.AsSpan(a..b), scratch.Values.AsSpan(a..b));
            }

            from = until;
        }
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

    private NumberReader Column(byte[] blob, ref int at)
    {
        int length = Varint.ReadLength(blob, ref at, blob.Length - at - DayColumns.Spare), start = at;
        at += length;
        return new NumberReader(blob, start, length, Count);
    }
}

/// <summary>Where one reader unpacks a block, and which one lies there: neighbouring stretches share it.</summary>
internal sealed class BlockScratch
{
    public long[] Times { get; } = new long[NumberColumn.Block];
    public long[] Numbers { get; } = new long[NumberColumn.Block];
    public double[] Values { get; } = new double[NumberColumn.Block];
    public SealedReadings? Owner { get; set; }
    public int Block { get; set; }
    public int Count { get; set; }
}
