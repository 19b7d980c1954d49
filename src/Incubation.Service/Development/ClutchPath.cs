using System.Collections.Immutable;
using Incubation.Core.Clutches;
using Incubation.Core.Readings;
using Incubation.Core.Review;
using Incubation.Service.Clutches;
using Incubation.Storage.Records;
using NodaTime;

namespace Incubation.Service.Development;

/// <summary>A probe while it spoke for a clutch.</summary>
/// <param name="Probe">The probe.</param>
/// <param name="Where">Where it was, in the keeper's words.</param>
/// <param name="Nearness">In the clutch's tub, or in the air of its incubator.</param>
/// <param name="From">Start, inclusive.</param>
/// <param name="Until">End, exclusive.</param>
/// <param name="Bridge">Longest time between two of its readings over which a straight line is believed.</param>
internal readonly record struct ProbeSpan(
    string Probe, string Where, ProbeNearness Nearness, Instant From, Instant Until, Duration Bridge);

/// <summary>Where a clutch was, who spoke for it, and which limits held.</summary>
/// <param name="Whereabouts">Stretches without holes.</param>
/// <param name="Near">The nearest probes there were at each time.</param>
/// <param name="Air">Probes in the air of its incubators, which speak where the nearest fall silent.</param>
/// <param name="Bands">Limits over time.</param>
/// <param name="BandLater">Whether a band was set only later than some of the time it is held against.</param>
internal sealed record ClutchPath(
    IReadOnlyList<Whereabouts> Whereabouts, ImmutableArray<ProbeSpan> Near, ImmutableArray<ProbeSpan> Air,
    IReadOnlyList<BandSpan> Bands, bool BandLater)
{
    /// <summary>Up to half an hour between two readings is bridged, or as long as the incubator's band lets a probe be silent.</summary>
    private static readonly Duration LeastBridge = Duration.FromMinutes(30);

    /// <summary>A longer one would draw lines through nights.</summary>
    public static readonly Duration MostBridge = Duration.FromHours(6);

    public static ClutchPath Of(
        BookedClutch clutch, ClutchBookPage book, PlacementPage history, Quantity quantity, Instant from, Instant until)
    {
        HashSet<string> own = [.. clutch.Stays.Select(stay => stay.Tub)];
        IncubatorStay[] ownTubs = [.. book.Tubs.Values.Where(tub => own.Contains(tub.Tub.Key)).SelectMany(tub => tub.Stays)];
        HashSet<string> incubators = [.. ownTubs.Select(stay => stay.Incubator)];
        IncubatorStay[] neighbours =
        [
            .. book.Tubs.Values.SelectMany(tub => Chained(tub.Stays)).Where(stay => incubators.Contains(stay.Incubator)),
        ];
        Dictionary<string, string> names = book.Tubs.Values.ToDictionary(tub => tub.Tub.Key, tub => tub.Tub.Name);
        ProbeStay[] probes =
        [
            .. incubators.SelectMany(incubator => history.Probes[incubator]).SelectMany(stay => ProbeWhere.InTubs(stay, neighbours, names)),
        ];

        IReadOnlyList<Whereabouts> near = PlacementChain.Resolve(clutch.Stays, ownTubs, probes, from, until);
        IReadOnlyList<Whereabouts> air = PlacementChain.Resolve(clutch.Stays, ownTubs, [.. probes.Where(p => p.Tub is null)], from, until);
        (List<BandSpan> bands, bool later) = BandsOf(near, history, quantity);
        return new ClutchPath(near, Spans(near, probes, history, quantity), Spans(air, probes, history, quantity), bands, later);
    }

    private static ImmutableArray<ProbeSpan> Spans(
        IReadOnlyList<Whereabouts> stretches, ProbeStay[] probes, PlacementPage history, Quantity quantity)
    {
        var spans = new List<ProbeSpan>();
        var open = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (Whereabouts stretch in stretches)
        {
            foreach (string probe in stretch.Probes)
            {
                // A tub that is moved takes its probe along: one line, not two.
                if (open.TryGetValue(probe, out int i) && spans[i].Until == stretch.From && spans[i].Nearness == stretch.Nearness)
                {
                    spans[i] = spans[i] with { Until = stretch.Until };
                    continue;
                }

                string where = probes.FirstOrDefault(stay => stay.Probe == probe && stay.From <= stretch.From
                    && !(stay.Until <= stretch.From))?.Where ?? "";
                open[probe] = spans.Count;
                spans.Add(new ProbeSpan(
                    probe, where, stretch.Nearness, stretch.From, stretch.Until, Bridge(history.Bands[(stretch.Incubator!, quantity.Name)])));
            }
        }

        return [.. spans];
    }

    private static Duration Bridge(IEnumerable<BandRecord> bands)
        => bands.LastOrDefault() is { } band
            ? Duration.Min(MostBridge, Duration.Max(LeastBridge, Duration.FromSeconds(band.SilentAfterSeconds)))
            : LeastBridge;

    private static (List<BandSpan> Bands, bool Later) BandsOf(
        IReadOnlyList<Whereabouts> stretches, PlacementPage history, Quantity quantity)
    {
        var spans = new List<BandSpan>();
        bool later = false;
        foreach (Whereabouts stretch in stretches.Where(stretch => stretch.Incubator is not null))
        {
            BandRecord[] bands = [.. history.Bands[(stretch.Incubator!, quantity.Name)]];
            for (int i = 0; i < bands.Length; i++)
            {
                // Before the first band was set there was none: the first is then the best there is to hold it against.
                Instant from = i == 0 ? stretch.From : Instant.Max(stretch.From, bands[i].From);
                Instant until = i + 1 < bands.Length ? Instant.Min(stretch.Until, bands[i + 1].From) : stretch.Until;
                if (from < until)
                {
                    later |= from < bands[i].From;
                    spans.Add(new BandSpan(from, until, bands[i].WarningLow ?? bands[i].DangerLow, bands[i].WarningHigh ?? bands[i].DangerHigh));
                }
            }
        }

        return (spans, later);
    }

    private static IEnumerable<IncubatorStay> Chained(IEnumerable<IncubatorStay> entered)
    {
        IncubatorStay[] stays = [.. entered.OrderBy(stay => stay.From)];
        return stays.Select((stay, i) => i + 1 < stays.Length && !(stay.Until <= stays[i + 1].From) ? stay with { Until = stays[i + 1].From } : stay);
    }
}
