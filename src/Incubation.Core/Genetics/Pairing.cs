namespace Incubation.Core.Genetics;

/// <summary>What is known about one parent's copies of a trait.</summary>
public readonly record struct ParentCopies
{
    private ParentCopies(bool present, int? copies)
    {
        IsAbsent = !present;
        Copies = copies;
    }

    /// <summary>Whether there was no such parent: a clutch laid without a mate.</summary>
    public bool IsAbsent { get; }

    /// <summary>0, 1 or 2; null when not known or when there was no such parent.</summary>
    public int? Copies { get; }

    /// <summary>A parent that was there but whose copies nobody knows.</summary>
    public static ParentCopies Unknown => new(true, null);

    /// <summary>No such parent.</summary>
    public static ParentCopies None => new(false, null);

    /// <summary>A parent with a known number of copies.</summary>
    /// <param name="copies">0, 1 or 2.</param>
    /// <exception cref="ArgumentOutOfRangeException">Copies are not 0, 1 or 2.</exception>
    public static ParentCopies Known(int copies)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(copies);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(copies, 2);
        return new(true, copies);
    }
}

/// <summary>Dam and sire as to one trait.</summary>
/// <param name="Trait">The trait.</param>
/// <param name="Dam">The mother's copies.</param>
/// <param name="Sire">The father's copies, unknown, or none.</param>
public sealed record Pairing(Trait Trait, ParentCopies Dam, ParentCopies Sire);

/// <summary>What a pairing lets one expect: exact shares, or in words why none can be given.</summary>
/// <param name="Shares">Exact shares, or null when a parent is not known.</param>
/// <param name="LeastCarriers">Least share of young with at least one copy over all that is possible.</param>
/// <param name="MostCarriers">Greatest such share; equal to the least when the shares are exact.</param>
/// <param name="Words">One sentence for the page.</param>
public sealed record CrossExpectation(CrossShares? Shares, Fraction LeastCarriers, Fraction MostCarriers, string Words);

/// <summary>Crosses at one locus (Mendel 1866, law of segregation: each parent hands on one of its two copies at random).</summary>
public static class Cross
{
    /// <summary>Exact shares of copies among the young of two known parents.</summary>
    /// <param name="inheritance">How the trait shows.</param>
    /// <param name="damCopies">0, 1 or 2.</param>
    /// <param name="sireCopies">0, 1 or 2.</param>
    /// <exception cref="ArgumentOutOfRangeException">Copies are not 0, 1 or 2.</exception>
    public static CrossShares Of(Inheritance inheritance, int damCopies, int sireCopies)
    {
        Fraction dam = Hands(damCopies);
        Fraction sire = Hands(sireCopies);
        Fraction two = dam * sire;
        Fraction none = (Fraction.One - dam) * (Fraction.One - sire);
        return new CrossShares(inheritance, none, Fraction.One - none - two, two);
    }

    /// <summary>What to expect of a pairing, known or not.</summary>
    public static CrossExpectation Expect(Pairing pairing)
    {
        ArgumentNullException.ThrowIfNull(pairing);
        Trait trait = pairing.Trait;
        if (pairing.Dam.IsAbsent)
        {
            return Nothing("No dam is entered, so nothing can be expected.");
        }

        if (pairing.Sire.IsAbsent)
        {
            return WithoutMate(trait, pairing.Dam.Copies);
        }

        if (pairing.Dam.Copies is { } dam && pairing.Sire.Copies is { } sire)
        {
            CrossShares shares = Of(trait.Inheritance, dam, sire);
            return new CrossExpectation(shares, shares.Carriers, shares.Carriers, CrossWords.Shares(trait, shares));
        }

        CrossShares[] possible = [.. Possible(pairing.Dam).SelectMany(
            _ => Possible(pairing.Sire), (d, s) => Of(trait.Inheritance, d, s))];
        Fraction least = possible.Select(p => p.Carriers).MinBy(f => f.Value);
        Fraction most = possible.Select(p => p.Carriers).MaxBy(f => f.Value);
        string who = (pairing.Dam.Copies, pairing.Sire.Copies) switch
        {
            (null, null) => "Neither parent's copies are",
            (null, _) => "The dam's copies are not",
            _ => "The sire's copies are not",
        };
        return least == most
            ? new CrossExpectation(null, least, most, $"{who} known, but every young carries {trait.Name} either way.")
            : new CrossExpectation(null, least, most,
                $"{who} known: between {least} and {most} of the young carry {trait.Name}, and no share can be expected.");
    }

    private static CrossExpectation WithoutMate(Trait trait, int? damCopies)
    {
        // Every copy of a fatherless young comes from its mother, however her egg doubled itself.
        if (damCopies is 0 or 2)
        {
            Fraction all = damCopies == 2 ? Fraction.One : Fraction.Zero;
            string what = damCopies == 2 ? $"every young carries {trait.Name}" : $"no young carries {trait.Name}";
            CrossShares shares = damCopies == 2
                ? new(trait.Inheritance, Fraction.Zero, Fraction.Zero, Fraction.One)
                : new(trait.Inheritance, Fraction.One, Fraction.Zero, Fraction.Zero);
            return new CrossExpectation(shares, all, all, $"Laid without a sire: all copies come from the dam, so {what}.");
        }

        return Nothing("Laid without a sire: how the dam's copies are shared out is not known, so no share can be expected.");
    }

    private static CrossExpectation Nothing(string words) => new(null, Fraction.Zero, Fraction.One, words);

    private static IEnumerable<int> Possible(ParentCopies parent) => parent.Copies is { } known ? [known] : [0, 1, 2];

    private static Fraction Hands(int copies)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(copies);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(copies, 2);
        return new Fraction(copies, 2);
    }
}
