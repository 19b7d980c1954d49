using Incubation.Core.Readings;

namespace Incubation.Storage.Readings.Rollups;

/// <summary>The lengths that readings are summed up over, milliseconds, on UTC.</summary>
internal static class Spans
{
    public const long Minute = 60_000;
    public const long Hour = 3_600_000;
    public const long Day = 86_400_000;

    /// <summary>Marks that keep a reading out of every sum: it is no measurement, or of unknown age.</summary>
    public const ReadingMarks NotGood = ReadingMarks.Faulty | ReadingMarks.Retained;

    /// <summary>Start of the span that holds a time, also before 1970.</summary>
    public static long StartOf(long at, long span) => at - (at % span + span) % span;
}
