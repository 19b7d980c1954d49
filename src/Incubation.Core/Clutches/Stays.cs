using NodaTime;

namespace Incubation.Core.Clutches;

/// <summary>A clutch in a tub. A move begins a new stay and so ends the one before it.</summary>
/// <param name="Tub">Key of the tub.</param>
/// <param name="From">When it was put there.</param>
/// <param name="Until">When it was taken out, or null.</param>
public sealed record TubStay(string Tub, Instant From, Instant? Until);

/// <summary>A tub in an incubator.</summary>
/// <param name="Tub">Key of the tub.</param>
/// <param name="Incubator">Key of the incubator.</param>
/// <param name="Shelf">Where in it, in the keeper's words; empty when not said.</param>
/// <param name="From">When it was put there.</param>
/// <param name="Until">When it was taken out, or null.</param>
public sealed record IncubatorStay(string Tub, string Incubator, string Shelf, Instant From, Instant? Until);

/// <summary>A probe in an incubator.</summary>
/// <param name="Probe">The probe.</param>
/// <param name="Incubator">Key of the incubator.</param>
/// <param name="Tub">Key of the tub it lies in, or null when it hangs in the incubator's air.</param>
/// <param name="Where">Where, in the keeper's words.</param>
/// <param name="From">When it was put there.</param>
/// <param name="Until">When it was taken out, or null.</param>
public sealed record ProbeStay(string Probe, string Incubator, string? Tub, string Where, Instant From, Instant? Until);

/// <summary>How near to the eggs the probes are that speak for them.</summary>
public enum ProbeNearness
{
    /// <summary>No probe speaks for the clutch.</summary>
    None,

    /// <summary>Probes in the same incubator, but not in the tub: the eggs may be up to 2 °C off (turtle eggs in substrate against
    /// air: J. Exp. Biol. 221, jeb188698).</summary>
    Incubator,

    /// <summary>Probes in the clutch's own tub.</summary>
    Tub,
}

/// <summary>Where a clutch was for a while, and which probes speak for it.</summary>
/// <param name="From">Start, inclusive.</param>
/// <param name="Until">End, exclusive.</param>
/// <param name="Tub">Key of the tub, or null when it was in none.</param>
/// <param name="Incubator">Key of the incubator, or null.</param>
/// <param name="Shelf">Where in it; empty when not said.</param>
/// <param name="Probes">The probes that speak for it, in name order; empty when none does.</param>
/// <param name="Nearness">How near they are.</param>
public sealed record Whereabouts(
    Instant From, Instant Until, string? Tub, string? Incubator, string Shelf, IReadOnlyList<string> Probes, ProbeNearness Nearness)
{
    /// <summary>Length of the stretch.</summary>
    public Duration Length => Until - From;

    internal bool SameAs(Whereabouts other) => Tub == other.Tub && Incubator == other.Incubator && Shelf == other.Shelf
        && Nearness == other.Nearness && Probes.SequenceEqual(other.Probes);
}
