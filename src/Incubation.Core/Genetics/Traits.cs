namespace Incubation.Core.Genetics;

/// <summary>How a trait shows, in the words of the trade (common practice, no source).</summary>
public enum Inheritance
{
    /// <summary>Shows with two copies only; one copy looks normal ("het").</summary>
    Recessive,

    /// <summary>Shows with one copy; two copies look the same as one.</summary>
    Dominant,

    /// <summary>One copy shows, two copies look different again: the super form. The trade often says "co-dominant".</summary>
    IncompleteDominant,
}

/// <summary>A pattern or colour trait at one locus that the keeper named.</summary>
/// <param name="Key">Short name that never changes.</param>
/// <param name="Name">What the keeper calls it.</param>
/// <param name="Inheritance">How it shows.</param>
public sealed record Trait(string Key, string Name, Inheritance Inheritance);

/// <summary>What a young looks like as to one trait.</summary>
public enum Look
{
    /// <summary>Looks normal and carries nothing.</summary>
    Normal,

    /// <summary>Looks normal and carries one copy of a recessive trait.</summary>
    NormalCarrier,

    /// <summary>Shows the trait.</summary>
    Shows,

    /// <summary>The super form of an incomplete dominant trait.</summary>
    SuperForm,
}

/// <summary>From copies to looks.</summary>
public static class Looks
{
    /// <summary>The look of a young with that many copies.</summary>
    /// <param name="inheritance">How the trait shows.</param>
    /// <param name="copies">0, 1 or 2.</param>
    /// <exception cref="ArgumentOutOfRangeException">Copies are not 0, 1 or 2.</exception>
    public static Look Of(Inheritance inheritance, int copies)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(copies);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(copies, 2);
        return (inheritance, copies) switch
        {
            (_, 0) => Look.Normal,
            (Inheritance.Recessive, 1) => Look.NormalCarrier,
            (Inheritance.IncompleteDominant, 2) => Look.SuperForm,
            _ => Look.Shows,
        };
    }

    /// <summary>The look in words, for the trait's own name.</summary>
    public static string Words(Look look, string traitName) => look switch
    {
        Look.Normal => "normal",
        Look.NormalCarrier => $"looks normal, carries {traitName}",
        Look.SuperForm => $"super {traitName}",
        _ => traitName,
    };

    /// <summary>
    /// Whether a hatched young carries at least one copy, judged from its look alone; null where the look cannot tell
    /// (a normal-looking young of a recessive trait when the pairing can throw carriers that look normal).
    /// </summary>
    /// <param name="inheritance">How the trait shows.</param>
    /// <param name="seen">What was seen of the trait on the young.</param>
    /// <param name="shares">The pairing's shares, or null when a parent is unknown.</param>
    public static bool? Carries(Inheritance inheritance, TraitSeen seen, CrossShares? shares)
    {
        if (seen != TraitSeen.None)
        {
            return true;
        }

        if (inheritance != Inheritance.Recessive)
        {
            return false;
        }

        if (shares is null)
        {
            return null;
        }

        Fraction hidden = shares.OfCopies(1);
        if (hidden == Fraction.Zero)
        {
            return false;
        }

        return shares.OfCopies(0) == Fraction.Zero ? true : null;
    }
}
