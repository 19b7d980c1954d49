using Incubation.Core.Readings;

namespace Incubation.Service.Readings;

/// <summary>Marks readings that arrive while the service's own clock is not trusted.</summary>
internal static class UntrustedArrival
{
    public static ReadOnlyMemory<Reading> Mark(ReadOnlyMemory<Reading> readings, bool trusted)
    {
        if (trusted)
        {
            return readings;
        }

        Reading[] marked = readings.ToArray();
        foreach (ref Reading reading in marked.AsSpan())
        {
            reading = reading with { Marks = reading.Marks | ReadingMarks.OwnClock };
        }

        return marked;
    }
}
