using System.Collections.Immutable;

namespace Incubation.Core.Tint;

/// <summary>What a tint says about an egg, by a marker.</summary>
public enum MarkerCall
{
    /// <summary>The tint is one that goes with carrying the trait.</summary>
    Carrier,

    /// <summary>The tint is another one.</summary>
    Other,

    /// <summary>No tint was entered, or one that the marker leaves open.</summary>
    Unsure,
}

/// <summary>The claim that certain tints go with carrying a trait.</summary>
/// <param name="Trait">Key of the trait.</param>
/// <param name="CarrierTerms">Keys of the tints that say "carrier".</param>
/// <param name="OpenTerms">Keys of tints that say nothing either way (dark, yellow without vessels…).</param>
public sealed record TintMarker(string Trait, ImmutableHashSet<string> CarrierTerms, ImmutableHashSet<string> OpenTerms)
{
    /// <summary>What a tint says about an egg.</summary>
    /// <param name="term">Key of the tint, or null when none was entered.</param>
    public MarkerCall Call(string? term)
    {
        if (term is null || OpenTerms.Contains(term))
        {
            return MarkerCall.Unsure;
        }

        return CarrierTerms.Contains(term) ? MarkerCall.Carrier : MarkerCall.Other;
    }
}

/// <summary>Eggs of one clutch by what their tint says.</summary>
/// <param name="Carrier">Eggs that glow as carriers.</param>
/// <param name="Other">Eggs that glow otherwise.</param>
/// <param name="Unsure">Eggs with no tint, or one that says nothing.</param>
public readonly record struct GlowCount(int Carrier, int Other, int Unsure)
{
    /// <summary>Counts eggs by the tint each was given.</summary>
    /// <param name="marker">The marker.</param>
    /// <param name="terms">One tint key (or null) per egg.</param>
    public static GlowCount Of(TintMarker marker, IEnumerable<string?> terms)
    {
        ArgumentNullException.ThrowIfNull(marker);
        ArgumentNullException.ThrowIfNull(terms);
        var calls = terms.Select(marker.Call).ToLookup(call => call);
        return new GlowCount(calls[MarkerCall.Carrier].Count(), calls[MarkerCall.Other].Count(), calls[MarkerCall.Unsure].Count());
    }
}
