using Incubation.Core.Readings;

namespace Incubation.Storage.Readings.Sealed;

/// <summary>Packs the readings of one series' day into one blob. <see cref="SealedReadings"/> reads it.</summary>
internal static class DayColumns
{
    public const byte Format = 1;

    /// <summary>Bytes behind the last column, so that reading a window of bits never leaves the blob.</summary>
    public const int Spare = 8;

    /// <summary>The blob of the readings, and that of their minutes.</summary>
    /// <param name="rows">At least one, in order of their times.</param>
    public static (byte[] Readings, byte[] Minutes) Pack(ReadOnlySpan<StoredRow> rows)
    {
        int count = rows.Length;
        double[] values = new double[count];
        long[] times = new long[count], delays = new long[count], numbers = new long[count];
        for (int i = 0; i < count; i++)
        {
            (times[i], delays[i], values[i]) = (rows[i].At, unchecked(rows[i].Arrived - rows[i].At), rows[i].Value);
        }

        ValueScale scale = ValueScale.For(values, numbers);
        List<byte> blob = [Format];
        Varint.Write(blob, (ulong)count);
        WriteMarks(rows, blob);
        scale.Write(blob);
        foreach ((long[] column, bool seekable) in new[] { (times, true), (numbers, true), (delays, false) })
        {
            List<byte> bytes = [];
            NumberColumn.Write(column, seekable, bytes);
            Varint.Write(blob, (ulong)bytes.Count);
            blob.AddRange(bytes);
        }

        blob.AddRange(stackalloc byte[Spare]);
        return ([.. blob], MinuteColumns.Pack(rows, numbers, scale));
    }

    private static void WriteMarks(ReadOnlySpan<StoredRow> rows, List<byte> into)
    {
        List<(int Length, ReadingMarks Marks)> runs = [];
        for (int i = 0; i < rows.Length;)
        {
            int from = i;
            while (i < rows.Length && rows[i].Marks == rows[from].Marks)
            {
                i++;
            }

            runs.Add((i - from, rows[from].Marks));
        }

        Varint.Write(into, (ulong)runs.Count);
        foreach ((int length, ReadingMarks marks) in runs)
        {
            Varint.Write(into, (ulong)length);
            Varint.Write(into, (ulong)marks);
        }
    }
}
