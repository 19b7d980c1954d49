using Incubation.Service.Facility;
using Incubation.Service.Probes;

namespace Incubation.Service.Clutches;

/// <summary>Tells the probes which tubs they lie in.</summary>
internal sealed class TubsOfProbes(ClutchBook book) : IProbeTubs
{
    public string? TubOf(PlacedProbe place) => book.Current.TubOfProbe(place.Tub, place.Where, place.Incubator);

    public string NameOf(string tub) => book.Current.Tubs.GetValueOrDefault(tub)?.Tub.Name ?? tub;
}
