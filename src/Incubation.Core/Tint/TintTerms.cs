using System.Buffers;

namespace Incubation.Core.Tint;

/// <summary>A word of the keeper's for the colour an egg glows under the candling lamp.</summary>
/// <param name="Key">Short name that never changes; entries refer to it, so an old entry keeps the term it was made with.</param>
/// <param name="Word">The word shown.</param>
/// <param name="Meaning">What the keeper means by it.</param>
/// <param name="Colour">Colour to draw it in, <c>#rrggbb</c>; never shown without the word.</param>
public sealed record TintTerm(string Key, string Word, string Meaning, string Colour);

/// <summary>The terms a new facility begins with. All are common practice of the trade, no source; the keeper may change them.</summary>
public static class TintTerms
{
    private static readonly SearchValues<char> HexDigits = SearchValues.Create("0123456789abcdefABCDEF");

    /// <summary>Plain trade words, in the order they are offered.</summary>
    public static IReadOnlyList<TintTerm> Defaults { get; } =
    [
        new("pink", "pink", "A pink glow with vessels: usually alive.", "#e58a94"),
        new("peach", "peach", "A peach or orange glow: usually alive.", "#f0a878"),
        new("red", "red", "A deep red glow: many vessels, usually alive.", "#b5423f"),
        new("greenish", "greenish", "A green cast to the glow. In some lines said to go with carrying a trait.", "#a3b86c"),
        new("yellow", "yellow", "A plain yellow glow with no vessels: often a slug or infertile. Look again.", "#e6cf6a"),
        new("off-white", "off-white", "A pale glow with no vessels: often infertile or dead. Look again.", "#e9e1cf"),
        new("dark", "dark", "Hardly any glow. Late on, an embryo that fills the egg.", "#5b4a45"),
    ];

    /// <summary>Whether a colour is written as <c>#rrggbb</c>.</summary>
    public static bool IsColour(string? colour) =>
        colour is { Length: 7 } && colour[0] == '#' && colour.AsSpan(1).IndexOfAnyExcept(HexDigits) < 0;
}
