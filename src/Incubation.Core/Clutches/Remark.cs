namespace Incubation.Core.Clutches;

/// <summary>Something to say about what was entered: it refuses the entry, or is only said beside it.</summary>
/// <param name="Field">Name of the field as it stands on the wire.</param>
/// <param name="Words">What is wrong and what is allowed, in plain words.</param>
/// <param name="Refuses">Whether the entry cannot be taken as it is. False: it is taken, and this is said.</param>
public sealed record Remark(string Field, string Words, bool Refuses)
{
    /// <summary>The entry cannot be taken.</summary>
    public static Remark Refused(string field, string words) => new(field, words, true);

    /// <summary>The entry is taken, and this is said with it.</summary>
    public static Remark Said(string field, string words) => new(field, words, false);
}
