using Incubation.Storage.Readings;
using Incubation.Storage.Readings.Rollups;
using Incubation.Storage.Readings.Sealed;

namespace Incubation.Benchmarks.Readings;

/// <summary>Sealed days in memory: bytes a reading, and how fast one core unpacks time, value and arrival of each.</summary>
internal static class ColumnsBench
{
    private const int Rounds = 40;

    public static void Measure(Figures figures)
    {
        StoredRow[][] days =
        [
            .. Season.Of(0, ReadingsArea.Days).Select(reading => StoredRow.Of(in reading)).OrderBy(row => row.At)
                .GroupBy(row => Spans.StartOf(row.At, Spans.Day)).Select(day => day.ToArray()),
        ];
        (byte[] Readings, byte[] Minutes)[] packed = [.. days.Select(day => DayColumns.Pack(day))];
        double readings = days.Sum(day => day.Length);
        figures.Add("readings/sealed-payload", packed.Sum(day => day.Readings.Length) / readings, "bytes/reading", Bound.AtMost, 1.7);
        figures.AddBeside("readings/sealed-minutes-payload", packed.Sum(day => day.Minutes.Length) / readings, "bytes/reading");

        long[] times = new long[Season.ReadingsADay + 1], delays = new long[Season.ReadingsADay + 1];
        double[] values = new double[Season.ReadingsADay + 1];
        List<double> took = Timing.Runs(Rounds, _ =>
        {
            for (int i = 0; i < packed.Length; i++)
            {
                int count = days[i].Length;
                new SealedReadings(packed[i].Readings).Columns(times.AsSpan(0, count), values.AsSpan(0, count), delays.AsSpan(0, count));
            }
        });
        figures.Add("readings/sealed-unpacked", readings / Figures.Median(took.Skip(Rounds / 2)) / 1_000, "M readings/s", Bound.AtLeast, 30);
    }
}
