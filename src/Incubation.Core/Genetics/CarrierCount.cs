using System.Globalization;

namespace Incubation.Core.Genetics;

/// <summary>A count of carriers against what the pairing lets one expect.</summary>
/// <param name="Observed">Counted as carriers.</param>
/// <param name="Eggs">Eggs that could be judged.</param>
/// <param name="Share">Expected share.</param>
/// <param name="Mean">Expected count.</param>
/// <param name="Low">Lower end of the counts within which 95 of 100 such clutches fall.</param>
/// <param name="High">Upper end of those counts.</param>
/// <param name="Likelihood">Chance of exactly this count.</param>
/// <param name="P">Chance of a count as unlikely as this or more so (exact two-sided binomial test).</param>
/// <param name="Words">One or two sentences for the page.</param>
public sealed record CarrierCount(
    int Observed, int Eggs, Fraction Share, double Mean, int Low, int High, double Likelihood, double P, string Words)
{
    /// <summary>Judges a count.</summary>
    /// <param name="observed">Counted as carriers, 0 to <paramref name="eggs"/>.</param>
    /// <param name="eggs">Eggs judged, ≥ 0; eggs the keeper was unsure about are left out.</param>
    /// <param name="share">Expected share of carriers.</param>
    /// <exception cref="ArgumentOutOfRangeException">The counts do not fit together.</exception>
    public static CarrierCount Judge(int observed, int eggs, Fraction share)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(observed);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(observed, eggs);
        (int low, int high) = Binomial.ExpectedCounts(eggs, share.Value);
        double likelihood = Binomial.Probability(observed, eggs, share.Value);
        double p = Binomial.TwoSidedP(observed, eggs, share.Value);
        return new CarrierCount(
            observed, eggs, share, eggs * share.Value, low, high, likelihood, p, Say(observed, eggs, share, low, high, p));
    }

    private static string Say(int observed, int eggs, Fraction share, int low, int high, double p)
    {
        if (eggs == 0)
        {
            return "No egg has a tint that says either way yet.";
        }

        string range = low == high
            ? string.Create(CultureInfo.InvariantCulture, $"{low}")
            : string.Create(CultureInfo.InvariantCulture, $"{low} to {high}");
        string head = string.Create(CultureInfo.InvariantCulture,
            $"{observed} of {eggs} glow as carriers; {share} are expected ({range} in 95 of 100 clutches of this size).");
        string tail = p switch
        {
            0 => " This pairing cannot give that count: check the pairing or the tints.",
            < 0.01 => $" A count this far off is rare ({CrossWords.Chance(p)}): check the pairing or the tints.",
            < 0.05 => $" That is unusual ({CrossWords.Chance(p)}), but one clutch disproves nothing.",
            _ => " That is consistent with the pairing.",
        };
        return head + tail;
    }
}
