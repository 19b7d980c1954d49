using Incubation.Core.Development;
using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Service.Development;

/// <summary>
/// Reads a series thinned so that nothing a review asks for is lost: five calm minutes become one point at their mean, lively ones stay as
/// they were (minute by minute where a probe sends many times a minute), and a probe that sends seldom is kept whole.
/// </summary>
internal static class DayReader
{
    /// <summary>Width of a step.</summary>
    public static readonly Duration Step = Duration.FromMinutes(5);

    /// <summary>Within a calm step values differ by no more than this, in the quantity's unit: a probe's own noise.</summary>
    private const double Calm = 0.2;

    // More in a step, and minutes take the place of single readings.
    private const int ManyPerStep = 10;

    /// <summary>Start of the step that holds a time.</summary>
    public static Instant StepOf(Instant at)
    {
        long ms = at.ToUnixTimeMilliseconds(), width = (long)Step.TotalMilliseconds;
        return Instant.FromUnixTimeMilliseconds(ms - (((ms % width) + width) % width));
    }

    /// <summary>Points of [from, until), in time order; <paramref name="from"/> begins a step.</summary>
    public static List<TracePoint> Read(IReadingHistory store, SeriesKey series, Instant from, Instant until)
    {
        Instant whole = StepOf(until);
        var points = new List<TracePoint>();
        if (whole > from)
        {
            AddSteps(store, series, from, whole, points);
        }

        points.AddRange(Raw(store, series, Instant.Max(whole, from), until));
        return points;
    }

    /// <summary>Good readings as they are.</summary>
    public static IEnumerable<TracePoint> Raw(IReadingHistory store, SeriesKey series, Instant from, Instant until)
        => until > from ? store.Read(series, from, until).Where(r => r.IsGood).Select(r => new TracePoint(r.At, r.Value)) : [];

    private static void AddSteps(IReadingHistory store, SeriesKey series, Instant from, Instant until, List<TracePoint> points)
    {
        int steps = (int)Math.Round((until - from) / Step);
        ReadingBuckets found = store.Buckets(series, from, until, steps);
        if (found.Count.Sum() <= 2 * steps)
        {
            points.AddRange(found.Count.Count == 0 ? [] : Raw(store, series, from, until));
            return;
        }

        for (int i = 0; i < found.StartMs.Count;)
        {
            if (IsCalm(found, i))
            {
                points.Add(new TracePoint(Instant.FromUnixTimeMilliseconds(found.StartMs[i] + (found.WidthMs / 2)), found.Mean[i]));
                i++;
                continue;
            }

            int first = i, count = 0;
            while (i < found.StartMs.Count && !IsCalm(found, i) && found.StartMs[i] == found.StartMs[first] + ((i - first) * found.WidthMs))
            {
                count += found.Count[i++];
            }

            Instant start = Instant.FromUnixTimeMilliseconds(found.StartMs[first]);
            points.AddRange(Lively(store, series, start, i - first, count));
        }
    }

    private static IEnumerable<TracePoint> Lively(IReadingHistory store, SeriesKey series, Instant start, int steps, int count)
    {
        Instant end = start + (Step * steps);
        if (count <= ManyPerStep * steps)
        {
            return Raw(store, series, start, end);
        }

        ReadingBuckets minutes = store.Buckets(series, start, end, (int)(end - start).TotalMinutes);
        return minutes.StartMs.Select((ms, i) => new TracePoint(Instant.FromUnixTimeMilliseconds(ms + (minutes.WidthMs / 2)), minutes.Mean[i]));
    }

    private static bool IsCalm(ReadingBuckets found, int i) => found.Max[i] - found.Min[i] <= Calm;
}
