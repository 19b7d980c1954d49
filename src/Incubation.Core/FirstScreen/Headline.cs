namespace Incubation.Core.FirstScreen;

/// <summary>How the first screen feels.</summary>
public enum HeadlineTone
{
    /// <summary>Every incubator is measured and in its band, and somebody would be called.</summary>
    Calm,

    /// <summary>Something needs a person soon.</summary>
    Warning,

    /// <summary>Eggs may be lost.</summary>
    Danger,

    /// <summary>It is not known whether all is well.</summary>
    Unknown,
}

/// <summary>The first thing a person reads.</summary>
/// <param name="Tone">How it feels.</param>
/// <param name="Sentence">What is wrong, where, by how much and for how long; or that all is well.</param>
/// <param name="Next">Who has it, who is called next, or what to do.</param>
/// <param name="Detail">What else there is to know, or null.</param>
/// <param name="Occurrence">The alarm that the sentence is about, or null.</param>
/// <param name="Incubator">Key of the incubator that the sentence is about, or null.</param>
public sealed record Headline(HeadlineTone Tone, string Sentence, string Next, string? Detail, Guid? Occurrence, string? Incubator);
