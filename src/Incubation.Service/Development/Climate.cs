using System.Collections.Concurrent;
using System.Collections.Immutable;
using Incubation.Core.Development;
using Incubation.Core.Readings;
using Incubation.Core.Review;
using Incubation.Service.Clutches;
using NodaTime;

namespace Incubation.Service.Development;

/// <summary>
/// What a clutch went through: the temperature (or humidity) it really had across its placements, from the probes that spoke for it. Days
/// that are over are kept and only put together again when a late reading or a corrected placement changes them.
/// </summary>
internal sealed class Climate(SeriesDays days, PlacementHistory history, ClutchBook book)
{
    /// <summary>Clutch days kept: fifty clutches of two months. At the bound all are put together anew.</summary>
    private const int MostDays = 4_000;

    private readonly ConcurrentDictionary<(Guid Clutch, string Quantity, long Day), ClutchDayLines> _days = new();

    /// <summary>Where it was and who spoke for it.</summary>
    /// <param name="clutch">The clutch.</param>
    /// <param name="quantity">What is asked for.</param>
    /// <param name="from">Start.</param>
    /// <param name="until">End.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async ValueTask<ClutchPath> PathAsync(
        BookedClutch clutch, Quantity quantity, Instant from, Instant until, CancellationToken cancellationToken)
        => ClutchPath.Of(clutch, book.Current, await history.ReadAsync(cancellationToken), quantity, from, until);

    /// <summary>The clutch's own line.</summary>
    /// <param name="clutch">The clutch.</param>
    /// <param name="path">Where it was.</param>
    /// <param name="quantity">What is asked for.</param>
    /// <param name="from">Start.</param>
    /// <param name="until">End; not after <paramref name="now"/>.</param>
    /// <param name="now">Nothing is known after this.</param>
    /// <param name="calm">Whether calm hours are told as one line each, for sums that run over it many times.</param>
    public Trace Line(BookedClutch clutch, ClutchPath path, Quantity quantity, Instant from, Instant until, Instant now, bool calm)
    {
        var pieces = new List<Piece>();
        for (long day = SeriesDays.DayOf(from); day <= SeriesDays.DayOf(until); day++)
        {
            ClutchDayLines lines = Day(clutch, path, quantity, day, now);
            pieces.AddRange(calm ? lines.Calm : lines.Whole);
        }

        return Trace.Of(pieces).Between(from, until);
    }

    /// <summary>Each probe's own record while it spoke, or could have spoken, for the clutch.</summary>
    public IReadOnlyList<ProbeTrace> Probes(ClutchPath path, Quantity quantity, Instant from, Instant until, Instant now)
        =>
        [
            .. path.Near.Concat(path.Air).Distinct().GroupBy(span => (span.Probe, span.Where))
                .OrderBy(group => group.Min(span => span.From)).ThenBy(group => group.Key.Probe, StringComparer.Ordinal)
                .Select(group => new ProbeTrace(group.Key.Probe, group.Key.Where, Trace.Of(
                    group.SelectMany(span => ProbeLine.Of(days, span, quantity, from, until, now, []).Pieces)))),
        ];

    private ClutchDayLines Day(BookedClutch clutch, ClutchPath path, Quantity quantity, long day, Instant now)
    {
        Instant start = SeriesDays.StartOf(day), end = SeriesDays.StartOf(day + 1);
        // A line may reach over midnight by as long as two readings are bridged.
        Instant from = start - ClutchPath.MostBridge, until = end + ClutchPath.MostBridge;
        ImmutableArray<ProbeSpan> near = Within(path.Near, from, until), air = Within(path.Air, from, until);
        bool known = _days.TryGetValue((clutch.Id, quantity.Name, day), out ClutchDayLines? kept);
        if (known && until <= now && kept!.Holds(near, air, used => days.Of(used.Series, used.Points.Day, now)))
        {
            return kept;
        }

        var used = new List<UsedDay>();
        Trace Mean(ImmutableArray<ProbeSpan> spans) => TraceMean.Of(
        [
            .. spans.Where(span => span.From < until && span.Until > from).Select(span =>
            {
                var read = new List<DayPoints>();
                Trace line = ProbeLine.Of(days, span, quantity, from, until, now, read);
                used.AddRange(read.Select(points => new UsedDay(new SeriesKey(span.Probe, quantity), points)));
                return line;
            }),
        ]);
        // The nearest speak; where all of them are silent, the air of the incubator does.
        Trace nearest = Mean(path.Near);
        Trace line = air.SequenceEqual(near) ? nearest : nearest.Or(Mean(path.Air));
        Piece[] pieces = [.. line.Between(start, Instant.Min(end, now)).Pieces];
        ClutchDayLines fresh = new(near, air, [.. used], pieces, [.. CalmHours.Of(pieces)]);
        if (_days.Count >= MostDays)
        {
            _days.Clear();
        }

        if (until <= now)
        {
            _days[(clutch.Id, quantity.Name, day)] = fresh;
        }

        return fresh;
    }

    private static ImmutableArray<ProbeSpan> Within(ImmutableArray<ProbeSpan> spans, Instant from, Instant until)
        =>
        [
            .. spans.Where(span => span.From < until && span.Until > from)
                .Select(span => span with { From = Instant.Max(span.From, from), Until = Instant.Min(span.Until, until) }),
        ];
}

/// <summary>A day of points that went into a clutch's day.</summary>
internal readonly record struct UsedDay(SeriesKey Series, DayPoints Points);

/// <summary>One day (UTC) of one clutch, and what it was put together from.</summary>
internal sealed record ClutchDayLines(
    ImmutableArray<ProbeSpan> Near, ImmutableArray<ProbeSpan> Air, ImmutableArray<UsedDay> Used, Piece[] Whole, Piece[] Calm)
{
    /// <summary>Whether it would come out the same today.</summary>
    public bool Holds(ImmutableArray<ProbeSpan> near, ImmutableArray<ProbeSpan> air, Func<UsedDay, DayPoints> now)
        => Near.SequenceEqual(near) && Air.SequenceEqual(air) && Used.All(used => ReferenceEquals(now(used), used.Points));
}
