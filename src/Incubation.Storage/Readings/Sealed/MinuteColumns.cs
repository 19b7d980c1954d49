using Incubation.Storage.Readings.Rollups;

namespace Incubation.Storage.Readings.Sealed;

/// <summary>
/// The minutes of a sealed day: which there are, and count, sum, least and greatest of each, as whole numbers of the probe's own resolution, so
/// that sums are exact. Values without one are few and odd: their minutes are counted from the readings when they are wanted.
/// </summary>
internal static class MinuteColumns
{
    private const byte Format = 1;
    private const byte FromReadings = 2;
    private const int Columns = 5;

    /// <summary>The blob; empty columns when no reading is good.</summary>
    public static byte[] Pack(ReadOnlySpan<StoredRow> rows, ReadOnlySpan<long> numbers, ValueScale scale)
    {
        if (scale.Kind != ValueKind.Decimal)
        {
            return [FromReadings];
        }

        List<long>[] columns = [[], [], [], [], []];
        for (int i = 0; i < rows.Length;)
        {
            long minute = Spans.StartOf(rows[i].At, Spans.Minute);
            long count = 0, sum = 0, least = long.MaxValue, greatest = long.MinValue;
            for (; i < rows.Length && rows[i].At < minute + Spans.Minute; i++)
            {
                if ((rows[i].Marks & Spans.NotGood) == 0)
                {
                    (count, sum) = (count + 1, sum + numbers[i]);
                    (least, greatest) = (Math.Min(least, numbers[i]), Math.Max(greatest, numbers[i]));
                }
            }

            if (count > 0)
            {
                columns[0].Add((minute - Spans.StartOf(minute, Spans.Day)) / Spans.Minute);
                columns[1].Add(count);
                columns[2].Add(least);
                columns[3].Add(greatest - least);
                // How far twice the sum is off from what the middle would give.
                columns[4].Add(2 * sum - count * (least + greatest));
            }
        }

        List<byte> blob = [Format];
        Varint.Write(blob, (ulong)columns[0].Count);
        scale.Write(blob);
        if (columns[0].Count > 0)
        {
            foreach (List<long> column in columns)
            {
                List<byte> bytes = [];
                NumberColumn.Write(column.ToArray(), seekable: false, bytes);
                Varint.Write(blob, (ulong)bytes.Count);
                blob.AddRange(bytes);
            }
        }

        blob.AddRange(stackalloc byte[DayColumns.Spare]);
        return [.. blob];
    }

    /// <summary>Reads the blob, or counts from the readings.</summary>
    /// <exception cref="InvalidDataException">It is none.</exception>
    public static DayMinutes Unpack(long day, byte[] blob, Func<SealedReadings> readings)
    {
        if (blob is [FromReadings])
        {
            return FromRaw(day, readings());
        }

        if (blob.Length < 1 + DayColumns.Spare || blob[0] != Format)
        {
            throw new InvalidDataException("The minutes of a sealed day are of an unknown format.");
        }

        int at = 1, count = Varint.ReadLength(blob, ref at, DayMinutes.MinutesADay);
        ValueScale scale = ValueScale.Read(blob, ref at);
        if (scale.Kind != ValueKind.Decimal)
        {
            throw new InvalidDataException("The minutes of a sealed day have no resolution.");
        }

        long[] numbers = new long[count * Columns];
        for (int column = 0; count > 0 && column < Columns; column++)
        {
            int length = Varint.ReadLength(blob, ref at, blob.Length - at - DayColumns.Spare);
            new NumberReader(blob, at, length, count).Read(0, numbers.AsSpan(column * count, count));
            at += length;
        }

        short[] minutes = new short[count];
        RollupSum[] sums = new RollupSum[count];
        for (int i = 0; i < count; i++)
        {
            (long many, long least, long greatest) = (numbers[count + i], numbers[2 * count + i], numbers[2 * count + i] + numbers[3 * count + i]);
            minutes[i] = (short)numbers[i];
            long sum = (numbers[4 * count + i] + many * (least + greatest)) / 2;
            sums[i] = new RollupSum(many, scale.Value(sum, many), scale.Value(least), scale.Value(greatest));
        }

        return new DayMinutes(day, minutes, sums);
    }

    private static DayMinutes FromRaw(long day, SealedReadings readings)
    {
        List<short> minutes = [];
        List<RollupSum> sums = [];
        readings.Good(day, day + Spans.Day, new BlockScratch(), (times, values) =>
        {
            for (int i = 0; i < times.Length; i++)
            {
                short minute = (short)((times[i] - day) / Spans.Minute);
                if (minutes.Count == 0 || minutes[^1] != minute)
                {
                    minutes.Add(minute);
                    sums.Add(default);
                }

                sums[^1] = sums[^1].With(values[i]);
            }
        });
        return new DayMinutes(day, [.. minutes], [.. sums]);
    }
}

/// <summary>The minutes of one day that have good readings, in order.</summary>
/// <param name="Day">Start of the day, Unix milliseconds.</param>
/// <param name="Minutes">Which minutes of the day.</param>
/// <param name="Sums">What each comes to.</param>
internal sealed record DayMinutes(long Day, short[] Minutes, RollupSum[] Sums)
{
    public const int MinutesADay = (int)(Spans.Day / Spans.Minute);

    /// <summary>About what it takes in memory, bytes.</summary>
    public int Bytes => 100 + 34 * Minutes.Length;

    /// <summary>Place of the first minute at or after a time.</summary>
    public int PlaceOf(long at)
    {
        int place = Minutes.AsSpan().BinarySearch((short)Math.Clamp((at - Day + Spans.Minute - 1) / Spans.Minute, 0, MinutesADay));
        return place < 0 ? ~place : place;
    }
}
