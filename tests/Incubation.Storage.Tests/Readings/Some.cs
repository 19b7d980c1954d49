using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Storage.Tests.Readings;

/// <summary>Readings of which a test cares for a part only.</summary>
internal static class Some
{
    public static SeriesKey Series(string probe = "hazel-air") => new(probe, Quantity.Temperature);

    public static Reading Reading(
        long atMs = 0, double value = 31.4, string probe = "hazel-air", ReadingMarks marks = ReadingMarks.None) =>
        new(Series(probe), value, At(atMs), At(atMs) + Duration.FromMilliseconds(40), marks);

    /// <summary>Milliseconds after the start of the test's history.</summary>
    public static Instant At(long ms) => TemporaryStore.Start + Duration.FromMilliseconds(ms);

    public static Instant Before { get; } = TemporaryStore.Start - Duration.FromDays(1);
    public static Instant After { get; } = TemporaryStore.Start + Duration.FromDays(100);
}
