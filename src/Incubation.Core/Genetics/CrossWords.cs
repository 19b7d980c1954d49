using System.Globalization;

namespace Incubation.Core.Genetics;

/// <summary>Sentences about shares and counts.</summary>
public static class CrossWords
{
    /// <summary>The shares of a cross in one sentence.</summary>
    public static string Shares(Trait trait, CrossShares shares)
    {
        ArgumentNullException.ThrowIfNull(trait);
        ArgumentNullException.ThrowIfNull(shares);
        IEnumerable<string> parts = shares.ByLook.Select(look => $"{look.Share} {Looks.Words(look.Look, trait.Name)}");
        return shares.ByLook.Count == 1
            ? $"Every young is expected {Looks.Words(shares.ByLook[0].Look, trait.Name)}."
            : $"Expected of each young: {string.Join(", ", parts)}.";
    }

    /// <summary>A probability in words: per cent, with "less than 1 in …" for the rare.</summary>
    /// <param name="p">0 to 1.</param>
    public static string Chance(double p) => p switch
    {
        >= 0.9995 => "practically always",
        >= 0.0095 => string.Create(CultureInfo.InvariantCulture, $"about {Math.Round(p * 100):0} in 100"),
        >= 0.00095 => string.Create(CultureInfo.InvariantCulture, $"about {Math.Round(p * 1000):0} in 1000"),
        > 0 => "less than 1 in 1000",
        _ => "never",
    };
}
