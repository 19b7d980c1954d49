using Incubation.Core.Readings;

namespace Incubation.Service.Probes;

/// <summary>The corrections of all series, in memory, from the calibrations on record.</summary>
internal sealed class Corrections : ICorrections
{
    private volatile Dictionary<SeriesKey, Correction> _known = [];

    public Correction Of(SeriesKey series) => _known.GetValueOrDefault(series, Correction.None);

    public void Become(Dictionary<SeriesKey, Correction> known) => _known = known;
}
