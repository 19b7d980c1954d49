using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Storage.Readings;

/// <summary>A reading of a known series as it lies on the disk; times in Unix milliseconds.</summary>
internal readonly record struct StoredRow(long At, double Value, long Arrived, ReadingMarks Marks)
{
    public static StoredRow Of(in Reading reading) =>
        new(reading.At.ToUnixTimeMilliseconds(), reading.Value, reading.ArrivedAt.ToUnixTimeMilliseconds(), reading.Marks);

    public Reading For(in SeriesKey series) =>
        new(series, Value, Instant.FromUnixTimeMilliseconds(At), Instant.FromUnixTimeMilliseconds(Arrived), Marks);
}
