using NodaTime;

namespace Incubation.Core.Development;

/// <summary>A value at an instant.</summary>
/// <param name="At">When.</param>
/// <param name="Value">In the quantity's unit.</param>
public readonly record struct TracePoint(Instant At, double Value);

/// <summary>A straight line between two instants.</summary>
/// <param name="From">Start.</param>
/// <param name="FromValue">Value at the start.</param>
/// <param name="Until">End, after the start.</param>
/// <param name="UntilValue">Value at the end.</param>
public readonly record struct Piece(Instant From, double FromValue, Instant Until, double UntilValue)
{
    /// <summary>Length in days of 24 hours.</summary>
    public double Days => (Until - From).TotalDays;

    /// <summary>Mean value.</summary>
    public double Mean => (FromValue + UntilValue) / 2;

    /// <summary>Value at an instant within.</summary>
    public double At(Instant at)
    {
        double share = (at - From) / (Until - From);
        return FromValue + (share * (UntilValue - FromValue));
    }

    /// <summary>The part within [<paramref name="from"/>, <paramref name="until"/>], or null when there is none of any length.</summary>
    public Piece? Within(Instant from, Instant until)
    {
        Instant start = Instant.Max(From, from);
        Instant end = Instant.Min(Until, until);
        if (end <= start)
        {
            return null;
        }

        return new Piece(start, start == From ? FromValue : At(start), end, end == Until ? UntilValue : At(end));
    }
}

/// <summary>
/// What a quantity did over time as far as it is known: straight lines between readings, and gaps where nothing is known. A gap
/// is never bridged silently.
/// </summary>
public sealed class Trace
{
    private Trace(Piece[] pieces) => Pieces = pieces;

    /// <summary>Nothing known.</summary>
    public static Trace Empty { get; } = new([]);

    /// <summary>The lines, in time order, without overlaps.</summary>
    public IReadOnlyList<Piece> Pieces { get; }

    /// <summary>Time that is known, days of 24 hours.</summary>
    public double KnownDays => Pieces.Sum(piece => piece.Days);

    /// <summary>
    /// A trace of readings in any order of arrival. Between two readings no further apart than
    /// <paramref name="longestBridge"/> the value is taken to have gone straight; longer is a gap. Readings of the same instant
    /// are averaged; values that are no numbers are left out.
    /// </summary>
    /// <param name="readings">Good readings of one probe.</param>
    /// <param name="longestBridge">For example 30 minutes for a probe that reports every few; more than zero.</param>
    public static Trace FromReadings(IEnumerable<TracePoint> readings, Duration longestBridge)
    {
        ArgumentNullException.ThrowIfNull(readings);
        if (longestBridge <= Duration.Zero)
        {
            throw new ArgumentOutOfRangeException(nameof(longestBridge), longestBridge, "The longest bridge is more than zero.");
        }

        TracePoint[] points =
        [
            .. readings.Where(point => double.IsFinite(point.Value))
                .OrderBy(point => point.At).ThenBy(point => point.Value),
        ];
        var pieces = new List<Piece>(points.Length);
        TracePoint? before = null;
        for (int i = 0; i < points.Length;)
        {
            int same = i + 1;
            double sum = points[i].Value;
            while (same < points.Length && points[same].At == points[i].At)
            {
                sum += points[same++].Value;
            }

            TracePoint point = new(points[i].At, sum / (same - i));
            if (before is { } last && point.At - last.At <= longestBridge)
            {
                pieces.Add(new Piece(last.At, last.Value, point.At, point.Value));
            }

            before = point;
            i = same;
        }

        return new Trace([.. pieces]);
    }

    /// <summary>The same value throughout.</summary>
    public static Trace Constant(Instant from, Instant until, double value) =>
        until > from ? new Trace([new Piece(from, value, until, value)]) : Empty;

    /// <summary>A trace of given lines.</summary>
    /// <exception cref="ArgumentException">Lines overlap, or one has no length.</exception>
    public static Trace Of(IEnumerable<Piece> pieces)
    {
        Piece[] ordered = [.. pieces.OrderBy(piece => piece.From)];
        for (int i = 0; i < ordered.Length; i++)
        {
            if (ordered[i].Until <= ordered[i].From || (i > 0 && ordered[i].From < ordered[i - 1].Until))
            {
                throw new ArgumentException("Lines must have a length and must not overlap.", nameof(pieces));
            }
        }

        return new Trace(ordered);
    }

    /// <summary>The part within [<paramref name="from"/>, <paramref name="until"/>]; a line that crosses an end is cut there.</summary>
    public Trace Between(Instant from, Instant until) =>
        new([.. Pieces.Select(piece => piece.Within(from, until)).OfType<Piece>()]);

    /// <summary>This trace, and where it has gaps, the other one.</summary>
    public Trace Or(Trace other)
    {
        ArgumentNullException.ThrowIfNull(other);
        if (Pieces.Count == 0 || other.Pieces.Count == 0)
        {
            return Pieces.Count == 0 ? other : this;
        }

        Instant start = Instant.Min(Pieces[0].From, other.Pieces[0].From);
        Instant end = Instant.Max(Pieces[^1].Until, other.Pieces[^1].Until);
        IEnumerable<Piece> fill = Gaps(start, end).SelectMany(gap => other.Between(gap.Start, gap.End).Pieces);
        return Of(Pieces.Concat(fill));
    }

    /// <summary>Stretches of [<paramref name="from"/>, <paramref name="until"/>) about which nothing is known, in time order.</summary>
    public IReadOnlyList<Interval> Gaps(Instant from, Instant until)
    {
        var gaps = new List<Interval>();
        Instant known = from;
        foreach (Piece piece in Pieces)
        {
            if (piece.From >= until)
            {
                break;
            }

            if (piece.From > known)
            {
                gaps.Add(new Interval(known, piece.From));
            }

            known = Instant.Max(known, piece.Until);
        }

        if (known < until)
        {
            gaps.Add(new Interval(known, until));
        }

        return gaps;
    }

    /// <summary>Time-weighted mean over what is known of [<paramref name="from"/>, <paramref name="until"/>], or null when nothing is.</summary>
    public double? Mean(Instant from, Instant until)
    {
        Trace part = Between(from, until);
        double days = part.KnownDays;
        return days > 0 ? part.Pieces.Sum(piece => piece.Mean * piece.Days) / days : null;
    }
}
