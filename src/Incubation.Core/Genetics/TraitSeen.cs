namespace Incubation.Core.Genetics;

/// <summary>What was seen of a trait on a hatchling.</summary>
public enum TraitSeen
{
    /// <summary>It looks normal.</summary>
    None,

    /// <summary>It shows the trait; how many copies it has cannot be told.</summary>
    Carries,

    /// <summary>It shows the look of one copy.</summary>
    OneCopy,

    /// <summary>It shows the look of two copies.</summary>
    TwoCopies,
}

/// <summary>The words of genetics as they are shown, sent and stored.</summary>
public static class GeneticsWords
{
    /// <summary>The word of an inheritance.</summary>
    public static string Word(Inheritance inheritance) => inheritance switch
    {
        Inheritance.Recessive => "recessive",
        Inheritance.Dominant => "dominant",
        _ => "incomplete dominant",
    };

    /// <summary>The word of what was seen.</summary>
    public static string Word(TraitSeen seen) => seen switch
    {
        TraitSeen.None => "none",
        TraitSeen.Carries => "carries",
        TraitSeen.OneCopy => "one copy",
        _ => "two copies",
    };

    /// <summary>The inheritance of a word, or null.</summary>
    public static Inheritance? InheritanceOf(string? word) => Enum.GetValues<Inheritance>()
        .Where(value => Word(value) == word).Select(value => (Inheritance?)value).FirstOrDefault();

    /// <summary>What was seen, of a word, or null.</summary>
    public static TraitSeen? SeenOf(string? word) => Enum.GetValues<TraitSeen>()
        .Where(value => Word(value) == word).Select(value => (TraitSeen?)value).FirstOrDefault();
}
