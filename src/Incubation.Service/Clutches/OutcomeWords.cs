using Incubation.Core.Clutches;

namespace Incubation.Service.Clutches;

/// <summary>The words of outcomes on the wire and in the records.</summary>
internal static class OutcomeWords
{
    public static IReadOnlyList<string> Kinds { get; } = [.. Enum.GetValues<OutcomeKind>().Select(Word)];

    /// <summary>What may be said of a trait on the young; "carries" leaves the copies open.</summary>
    public static IReadOnlyList<string> TraitSeen { get; } = ["none", "one copy", "two copies", "carries"];

    public static string Word(OutcomeKind kind) => kind switch
    {
        OutcomeKind.FirstPip => "first pip",
        OutcomeKind.Out => "out",
        OutcomeKind.DeadInEgg => "dead in egg",
        _ => "slug",
    };

    public static OutcomeKind? Kind(string? word)
        => Enum.GetValues<OutcomeKind>().Where(kind => Word(kind) == word).Select(kind => (OutcomeKind?)kind).FirstOrDefault();

    /// <summary>Whether the young carries the trait, from the word; null when not judged.</summary>
    public static bool? Shows(string? traitSeen) => traitSeen is null ? null : traitSeen != "none";
}
