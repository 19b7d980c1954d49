using Incubation.Service.Facility;

namespace Incubation.Service.Probes;

/// <summary>A room that knows the tubs. Probes ask it, and know none.</summary>
internal interface IProbeTubs
{
    /// <summary>Key of the tub that a probe lies in, or null in the air.</summary>
    string? TubOf(PlacedProbe place);

    /// <summary>What is written on a tub, or its key.</summary>
    string NameOf(string tub);
}
