using System.Globalization;
using Incubation.Core.Genetics;

namespace Incubation.Core.Tint;

/// <summary>One egg whose young was seen: what its tint said, and what came out.</summary>
/// <param name="Call">What the tint said before hatch.</param>
/// <param name="Carries">Whether the young carries the trait; null when its look cannot tell.</param>
public readonly record struct ConfirmedEgg(MarkerCall Call, bool? Carries);

/// <summary>How often a marker was right, counted over eggs whose young were seen.</summary>
/// <param name="CarrierRight">Glowed as carrier and is one.</param>
/// <param name="CarrierMissed">Glowed otherwise and is a carrier.</param>
/// <param name="OtherWrong">Glowed as carrier and is none.</param>
/// <param name="OtherRight">Glowed otherwise and is none.</param>
/// <param name="NotTold">Young or tints that say nothing either way; left out.</param>
public sealed record MarkerRecord(int CarrierRight, int CarrierMissed, int OtherWrong, int OtherRight, int NotTold)
{
    /// <summary>Eggs whose tint was right.</summary>
    public int Hits => CarrierRight + OtherRight;

    /// <summary>Eggs whose tint was wrong.</summary>
    public int Misses => CarrierMissed + OtherWrong;

    /// <summary>Eggs that count.</summary>
    public int Confirmed => Hits + Misses;

    /// <summary>Share of all confirmed eggs whose tint was right; null before the first.</summary>
    public Proportion? Right => Proportion.Measure(Hits, Confirmed);

    /// <summary>Share of carriers that glowed as carriers; null before the first hatched carrier.</summary>
    public Proportion? Sensitivity => Proportion.Measure(CarrierRight, CarrierRight + CarrierMissed);

    /// <summary>Share of the others that glowed otherwise; null before the first hatched one.</summary>
    public Proportion? Specificity => Proportion.Measure(OtherRight, OtherRight + OtherWrong);

    /// <summary>Counts hits and misses, in any order.</summary>
    public static MarkerRecord Count(IEnumerable<ConfirmedEgg> eggs)
    {
        ArgumentNullException.ThrowIfNull(eggs);
        int carrierRight = 0, carrierMissed = 0, otherWrong = 0, otherRight = 0, notTold = 0;
        foreach (ConfirmedEgg egg in eggs)
        {
            switch (egg.Call, egg.Carries)
            {
                case (MarkerCall.Carrier, true): carrierRight++; break;
                case (MarkerCall.Other, true): carrierMissed++; break;
                case (MarkerCall.Carrier, false): otherWrong++; break;
                case (MarkerCall.Other, false): otherRight++; break;
                default: notTold++; break;
            }
        }

        return new MarkerRecord(carrierRight, carrierMissed, otherWrong, otherRight, notTold);
    }

    /// <summary>One sentence for the page.</summary>
    public string Words()
    {
        if (Right is not { } right)
        {
            return "No hatch has confirmed this marker yet: what the tints say is a guess.";
        }

        string eggs = Confirmed == 1 ? "1 hatched egg" : string.Create(CultureInfo.InvariantCulture, $"{Confirmed} hatched eggs");
        return string.Create(CultureInfo.InvariantCulture,
            $"Right in {Hits} of {eggs} ({right.Low * 100:0} to {right.High * 100:0} % with 95 % confidence); wrong in {Misses}.");
    }
}
