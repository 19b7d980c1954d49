using Incubation.Core.Readings;

namespace Incubation.Core.FirstScreen;

/// <summary>
/// What the first screen says of a store in trouble. Eggs come first: beside anything about them it is a detail. When all of them are
/// well it is the headline, so that "all is well" is never said over a disk that takes nothing.
/// </summary>
internal static class StoreSentence
{
    /// <summary>The headline with what the store's trouble adds to it.</summary>
    public static Headline Beside(Headline headline, FacilityFacts facts)
        => facts.Store is { NeedsAttention: true } store
            ? headline with { Detail = headline.Detail is null ? store.Words : $"{headline.Detail} {store.Words}" }
            : headline;

    /// <summary>The headline when nothing else is wrong; null when the store is well too.</summary>
    public static Headline? Alone(FacilityFacts facts) => facts.Store switch
    {
        { Kind: StoreKind.Refusing } store => Of("Readings can't be kept: the probes are told to send them again.", store),
        { Kind: StoreKind.Spooling } store => Of("Readings wait in the spool file, since the database can't be written.", store),
        { DiskNearlyFull: true } store => Of("The disk is nearly full.", store),
        _ => null,
    };

    private static Headline Of(string sentence, StoreState store) => new(
        HeadlineTone.Warning, sentence, store.Words, "Every incubator is in its band; judging and calling go on from memory.", null, null);
}
