using System.Collections.Immutable;
using Incubation.Core.Candling;
using Incubation.Core.Genetics;
using Incubation.Core.Tint;
using Incubation.Service.Clutches;
using NodaTime;

namespace Incubation.Service.Tint;

/// <summary>What tints say of eggs, and how often they were right, across all clutches on record.</summary>
internal sealed class TintRecord(ClutchBook book, ITintWords words)
{
    /// <summary>
    /// Tints of eggs with no vessels or hardly any glow, which say nothing of a trait (common practice, no source), unless the keeper names
    /// one of them as a carrier's.
    /// </summary>
    private static readonly ImmutableHashSet<string> Open = ["yellow", "off-white", "dark"];

    /// <summary>The claim, as the keeper made it.</summary>
    public static TintMarker Marker(string trait, IEnumerable<string> carrierTints)
    {
        ImmutableHashSet<string> carriers = [.. carrierTints];
        return new TintMarker(trait, carriers, Open.Except(carriers));
    }

    /// <summary>What the eggs of a clutch glow as; slugs are left out, since they carry nothing.</summary>
    public static GlowCount Glowing(BookedClutch clutch, TintMarker marker)
        => GlowCount.Of(marker, clutch.Eggs.Where(egg => egg.Status.Status != EggStatus.Slug).Select(egg => TintBeforeHatch(clutch, egg)));

    /// <summary>Hits and misses over every egg whose young was looked at for the trait.</summary>
    /// <param name="trait">The trait.</param>
    /// <param name="marker">Its marker.</param>
    /// <param name="shares">Shares of each clutch's pairing, which may tell what a normal look can't.</param>
    public MarkerRecord Count(Trait trait, TintMarker marker, Func<BookedClutch, CrossShares?> shares)
        => MarkerRecord.Count(book.Current.Clutches.Values.SelectMany(clutch => Confirmed(clutch, trait, marker, shares)));

    /// <summary>The record as it is shown.</summary>
    public MarkerView View(TintMarker marker, MarkerRecord record)
    {
        Dictionary<string, string> names = words.Terms.ToDictionary(term => term.Key, term => term.Word);
        return new MarkerView(
            [.. marker.CarrierTerms.Select(term => names.GetValueOrDefault(term, term)).Order(StringComparer.Ordinal)],
            record.Hits, record.Misses, Counted(record.Sensitivity), Counted(record.Specificity), record.Words());
    }

    private static IEnumerable<ConfirmedEgg> Confirmed(
        BookedClutch clutch, Trait trait, TintMarker marker, Func<BookedClutch, CrossShares?> shares)
    {
        foreach (BookedEgg egg in clutch.Eggs)
        {
            BookedOutcome? judged = clutch.Outcomes.LastOrDefault(outcome => outcome.Stands && outcome.Outcome.Egg == egg.Place.Number
                && outcome.Outcome.Trait == trait.Key && outcome.Outcome.TraitSeen is not null);
            if (judged?.Outcome.TraitSeen is { } seen)
            {
                bool? carries = Looks.Carries(trait.Inheritance, seen, shares(clutch));
                yield return new ConfirmedEgg(marker.Call(TintBeforeHatch(clutch, egg)), carries);
            }
        }
    }

    // What was seen after the young was known is no forecast.
    private static string? TintBeforeHatch(BookedClutch clutch, BookedEgg egg)
    {
        Instant? known = clutch.Outcomes.Where(outcome => outcome.Stands && outcome.Outcome.Egg == egg.Place.Number)
            .Select(outcome => (Instant?)outcome.Outcome.At).Min();
        return egg.LastTinted(known)?.Tint;
    }

    private static CountedView? Counted(Proportion? share) => share is null ? null : new CountedView(share.Count, share.Of, share.Low, share.High);
}
