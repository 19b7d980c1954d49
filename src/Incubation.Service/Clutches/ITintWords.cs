using Incubation.Core.Tint;

namespace Incubation.Service.Clutches;

/// <summary>The keeper's terms for tints as they stand; the Tint room answers, and Core's defaults until it does.</summary>
internal interface ITintWords
{
    /// <summary>All terms in the order they are offered.</summary>
    IReadOnlyList<TintTerm> Terms { get; }
}

/// <summary>The terms a new facility begins with.</summary>
internal sealed class DefaultTintWords : ITintWords
{
    public IReadOnlyList<TintTerm> Terms => TintTerms.Defaults;
}
