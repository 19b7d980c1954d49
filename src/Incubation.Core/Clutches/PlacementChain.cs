using NodaTime;

namespace Incubation.Core.Clutches;

/// <summary>
/// Where a clutch was at each instant and which probes spoke for it, from the records of what was put where.
/// </summary>
/// <remarks>
/// Rules: a thing is in one place at a time, so a later stay ends the one before it, whatever end that was given; of two stays
/// that begin at the same instant the one entered last (last in the list) holds. Probes in the clutch's own tub speak for it;
/// where there are none, those that hang in its incubator do; those in another tub never do.
/// </remarks>
public static class PlacementChain
{
    /// <summary>The stretches over [<paramref name="from"/>, <paramref name="to"/>), in time order, without holes or overlaps.</summary>
    /// <param name="clutch">Stays of the clutch in tubs, in the order they were entered.</param>
    /// <param name="tubs">Stays of any tubs in incubators, in the order they were entered.</param>
    /// <param name="probes">Stays of any probes, in the order they were entered.</param>
    /// <param name="from">Start, inclusive.</param>
    /// <param name="to">End, exclusive; not after <paramref name="from"/> gives no stretch.</param>
    public static IReadOnlyList<Whereabouts> Resolve(
        IReadOnlyList<TubStay> clutch, IReadOnlyList<IncubatorStay> tubs, IReadOnlyList<ProbeStay> probes, Instant from, Instant to)
    {
        ArgumentNullException.ThrowIfNull(clutch);
        ArgumentNullException.ThrowIfNull(tubs);
        ArgumentNullException.ThrowIfNull(probes);
        if (to <= from)
        {
            return [];
        }

        List<Span<TubStay>> inTub = Chain(clutch, stay => stay.From, stay => stay.Until);
        Dictionary<string, List<Span<IncubatorStay>>> inIncubator = tubs.GroupBy(stay => stay.Tub).ToDictionary(
            group => group.Key, group => Chain([.. group], stay => stay.From, stay => stay.Until));
        List<Span<ProbeStay>> heard =
            [.. probes.GroupBy(stay => stay.Probe).SelectMany(group => Chain([.. group], stay => stay.From, stay => stay.Until))];

        IEnumerable<Instant> edges = inTub.SelectMany(Edges)
            .Concat(inIncubator.Values.SelectMany(chain => chain.SelectMany(Edges)))
            .Concat(heard.SelectMany(Edges));
        Instant[] cuts = [.. edges.Where(edge => edge > from && edge < to).Append(from).Append(to).Distinct().Order()];

        var result = new List<Whereabouts>();
        for (int i = 0; i + 1 < cuts.Length; i++)
        {
            Whereabouts next = Stretch(inTub, inIncubator, heard, cuts[i], cuts[i + 1]);
            if (result.Count > 0 && result[^1].SameAs(next))
            {
                result[^1] = result[^1] with { Until = next.Until };
            }
            else
            {
                result.Add(next);
            }
        }

        return result;
    }

    /// <summary>Where the clutch is at one instant.</summary>
    /// <param name="clutch">Stays of the clutch in tubs, in the order they were entered.</param>
    /// <param name="tubs">Stays of any tubs in incubators, in the order they were entered.</param>
    /// <param name="probes">Stays of any probes, in the order they were entered.</param>
    /// <param name="at">The instant.</param>
    public static Whereabouts At(
        IReadOnlyList<TubStay> clutch, IReadOnlyList<IncubatorStay> tubs, IReadOnlyList<ProbeStay> probes, Instant at) =>
        Resolve(clutch, tubs, probes, at, at + Duration.Epsilon)[0];

    private static Whereabouts Stretch(
        List<Span<TubStay>> inTub, Dictionary<string, List<Span<IncubatorStay>>> inIncubator, List<Span<ProbeStay>> heard,
        Instant from, Instant until)
    {
        string? tub = Holding(inTub, from)?.Tub;
        IncubatorStay? place = tub is not null && inIncubator.TryGetValue(tub, out List<Span<IncubatorStay>>? chain)
            ? Holding(chain, from)
            : null;
        if (place is null)
        {
            return new Whereabouts(from, until, tub, null, "", [], ProbeNearness.None);
        }

        ProbeStay[] near = [.. heard.Where(span => span.Holds(from) && span.Stay.Incubator == place.Incubator).Select(span => span.Stay)];
        string[] own = Names(near.Where(stay => stay.Tub == tub));
        string[] air = Names(near.Where(stay => stay.Tub is null));
        (string[] speaking, ProbeNearness nearness) = own.Length > 0 ? (own, ProbeNearness.Tub)
            : air.Length > 0 ? (air, ProbeNearness.Incubator)
            : ([], ProbeNearness.None);
        return new Whereabouts(from, until, tub, place.Incubator, place.Shelf, speaking, nearness);
    }

    private static string[] Names(IEnumerable<ProbeStay> stays) =>
        [.. stays.Select(stay => stay.Probe).Distinct().Order(StringComparer.Ordinal)];

    private static T? Holding<T>(List<Span<T>> chain, Instant at) where T : class =>
        chain.FirstOrDefault(span => span.Holds(at))?.Stay;

    private static IEnumerable<Instant> Edges<T>(Span<T> span) => [span.From, span.Until];

    private static List<Span<T>> Chain<T>(IReadOnlyList<T> stays, Func<T, Instant> from, Func<T, Instant?> until)
    {
        // OrderBy is stable: of stays with the same start the one entered last comes last and holds.
        T[] ordered = [.. stays.OrderBy(from)];
        var chain = new List<Span<T>>(ordered.Length);
        for (int i = 0; i < ordered.Length; i++)
        {
            Instant end = until(ordered[i]) ?? Instant.MaxValue;
            Instant next = i + 1 < ordered.Length ? from(ordered[i + 1]) : Instant.MaxValue;
            chain.Add(new Span<T>(ordered[i], from(ordered[i]), Instant.Min(end, next)));
        }

        return chain;
    }

    private sealed record Span<T>(T Stay, Instant From, Instant Until)
    {
        public bool Holds(Instant at) => From <= at && at < Until;
    }
}
