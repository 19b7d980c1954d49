namespace Incubation.Core.Genetics;

/// <summary>A share of the young with so many copies, and how they look.</summary>
/// <param name="Copies">0, 1 or 2.</param>
/// <param name="Share">Exact share of the young.</param>
/// <param name="Look">How they look.</param>
public readonly record struct CopyShare(int Copies, Fraction Share, Look Look);

/// <summary>A share of the young with one look.</summary>
/// <param name="Look">How they look.</param>
/// <param name="Share">Exact share of the young.</param>
public readonly record struct LookShare(Look Look, Fraction Share);

/// <summary>Exact shares of one cross; they add up to one.</summary>
/// <param name="Inheritance">How the trait shows.</param>
/// <param name="None">Share with no copy.</param>
/// <param name="One">Share with one copy.</param>
/// <param name="Two">Share with two copies.</param>
public sealed record CrossShares(Inheritance Inheritance, Fraction None, Fraction One, Fraction Two)
{
    /// <summary>Share of the young with at least one copy.</summary>
    public Fraction Carriers => One + Two;

    /// <summary>Share with exactly that many copies.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Copies are not 0, 1 or 2.</exception>
    public Fraction OfCopies(int copies) => copies switch
    {
        0 => None,
        1 => One,
        2 => Two,
        _ => throw new ArgumentOutOfRangeException(nameof(copies), copies, "A young has 0, 1 or 2 copies."),
    };

    /// <summary>The shares by copies, those of nothing left out, fewest copies first.</summary>
    public IReadOnlyList<CopyShare> ByCopies =>
    [
        .. Enumerable.Range(0, 3)
            .Select(copies => new CopyShare(copies, OfCopies(copies), Looks.Of(Inheritance, copies)))
            .Where(share => share.Share != Fraction.Zero),
    ];

    /// <summary>The shares by look, those of nothing left out. A hidden carrier is a look of its own here; the eye sees "normal".</summary>
    public IReadOnlyList<LookShare> ByLook =>
    [
        .. ByCopies.GroupBy(share => share.Look)
            .Select(group => new LookShare(group.Key, group.Select(share => share.Share).Aggregate(Fraction.Add))),
    ];
}
