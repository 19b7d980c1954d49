using Incubation.Core.Development;
using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Service.Development;

/// <summary>One probe's line over a window of time, while it spoke for a clutch.</summary>
internal static class ProbeLine
{
    /// <param name="days">Where the points come from.</param>
    /// <param name="span">When it spoke.</param>
    /// <param name="quantity">What of.</param>
    /// <param name="from">Start of the window.</param>
    /// <param name="until">End of the window.</param>
    /// <param name="now">Nothing is known after this.</param>
    /// <param name="used">Every day of points that was looked at is added here.</param>
    public static Trace Of(
        SeriesDays days, ProbeSpan span, Quantity quantity, Instant from, Instant until, Instant now, ICollection<DayPoints> used)
    {
        Instant start = Instant.Max(span.From, from), end = Instant.Min(Instant.Min(span.Until, until), now);
        if (end <= start)
        {
            return Trace.Empty;
        }

        SeriesKey series = new(span.Probe, quantity);
        var points = new List<TracePoint>();
        Instant first = Ceiling(start), last = DayReader.StepOf(end);
        for (long day = SeriesDays.DayOf(start); day <= SeriesDays.DayOf(end - Duration.Epsilon); day++)
        {
            DayPoints read = days.Of(series, day, now);
            used.Add(read);
            // A step that an edge cuts may hold readings of another place: there only the readings themselves tell.
            points.AddRange(read.Points.Where(point => point.At >= first && (point.At < last || end == now)));
        }

        points.AddRange(days.Raw(series, start, Instant.Min(first, end)));
        if (end != now && last >= first)
        {
            points.AddRange(days.Raw(series, last, end));
        }

        return Held(Trace.FromReadings(points, span.Bridge), points, span, start, end, now);
    }

    /// <summary>
    /// From the moment it was put there to its first reading, and from its last to the moment it was taken away (or to now), a value is
    /// held, for as long as two readings would be bridged.
    /// </summary>
    private static Trace Held(Trace line, List<TracePoint> points, ProbeSpan span, Instant start, Instant end, Instant now)
    {
        if (points.Count == 0)
        {
            return line;
        }

        TracePoint first = points.MinBy(point => point.At), last = points.MaxBy(point => point.At);
        var held = new List<Piece>();
        if (start == span.From && first.At > start && first.At - start <= span.Bridge)
        {
            held.Add(new Piece(start, first.Value, first.At, first.Value));
        }

        if ((end == span.Until || end == now) && last.At < end && end - last.At <= span.Bridge)
        {
            held.Add(new Piece(last.At, last.Value, end, last.Value));
        }

        return held.Count == 0 ? line : Trace.Of(line.Pieces.Concat(held));
    }

    private static Instant Ceiling(Instant at) => DayReader.StepOf(at) is var step && step < at ? step + DayReader.Step : at;
}
