using Incubation.Core.Clutches;
using Incubation.Service.Facility;
using NodaTime;

namespace Incubation.Service.Clutches;

/// <summary>Where clutches are and which probes speak for them, from the book and the facility as they stand.</summary>
internal sealed class ClutchWhereabouts(ClutchBook book, IFacility facility)
{
    /// <summary>Where a clutch is at an instant; probes are the ones placed now.</summary>
    public Whereabouts At(BookedClutch clutch, Instant at)
    {
        ClutchBookPage page = book.Current;
        ProbeStay[] probes =
        [
            .. facility.Current.Placements.Values.Select(p =>
                new ProbeStay(p.Probe, p.Incubator, page.TubOfProbe(p.Tub, p.Where, p.Incubator), p.Where, p.From, null)),
        ];
        return PlacementChain.At(clutch.Stays, StaysOfTubs(page, clutch), probes, at);
    }

    /// <summary>Everywhere it was up to an instant, in time order; stretches in no tub are left out.</summary>
    public IReadOnlyList<ClutchPlacementView> Path(BookedClutch clutch, Instant until)
    {
        if (clutch.Stays.IsEmpty)
        {
            return [];
        }

        ClutchBookPage page = book.Current;
        // One instant further, so that what was entered this millisecond shows.
        Instant end = until + Duration.FromMilliseconds(1);
        bool Lasts(Whereabouts stretch) => stretch.Until == end && clutch.FinishedAt is null;
        return
        [
            .. PlacementChain.Resolve(clutch.Stays, StaysOfTubs(page, clutch), [], clutch.Stays.Min(s => s.From), end)
                .Where(stretch => stretch.Tub is not null)
                .Select(stretch => new ClutchPlacementView(
                    stretch.Tub!, TubName(stretch.Tub!), stretch.Incubator, IncubatorName(stretch.Incubator),
                    stretch.Shelf.Length == 0 ? null : stretch.Shelf, stretch.From, Lasts(stretch) ? null : stretch.Until)),
        ];
    }

    /// <summary>Clutches that lie in a tub now.</summary>
    public IEnumerable<BookedClutch> In(string tub)
        => book.Current.Clutches.Values.Where(c => c.Stays.Any(s => s.Tub == tub && s.Until is null)).OrderBy(c => c.Clutch.Label, StringComparer.Ordinal);

    public string TubName(string tub) => book.Current.Tubs.GetValueOrDefault(tub)?.Tub.Name ?? tub;

    /// <summary>What an incubator is called; its key when it is out of use.</summary>
    public string? IncubatorName(string? incubator)
        => incubator is null ? null : facility.Current.Incubators.FirstOrDefault(i => i.Key == incubator)?.Name ?? incubator;

    private static IncubatorStay[] StaysOfTubs(ClutchBookPage page, BookedClutch clutch)
        => [.. clutch.Stays.Select(s => s.Tub).Distinct().SelectMany(tub => page.Tubs.GetValueOrDefault(tub)?.Stays ?? [])];
}
