using Incubation.Core.Candling;
using Incubation.Core.Genetics;
using Incubation.Core.Tint;
using Incubation.Service.Clutches;
using Incubation.Service.Tint;
using Incubation.Storage.Records;

namespace Incubation.Service.Genetics;

/// <summary>What the pairing lets one expect of a clutch, what its eggs glow as, and what that is worth.</summary>
internal sealed class ClutchGenetics(TraitShelf shelf, TintRecord tints) : IClutchGenetics
{
    public async ValueTask<IReadOnlyList<PairingView>> PairingsAsync(BookedClutch clutch, CancellationToken cancellationToken)
    {
        TraitPage page = await shelf.ReadAsync(cancellationToken);
        return
        [
            .. page.Pairings[clutch.Id].Select(pairing => (Pairing: pairing, Kept: page.Find(pairing.Trait)))
                .Where(pair => pair.Kept is not null)
                .OrderBy(pair => pair.Kept!.Trait.Name, StringComparer.OrdinalIgnoreCase)
                .Select(pair => View(clutch, pair.Pairing, pair.Kept!, page)),
        ];
    }

    /// <summary>How a trait's marker has done across all clutches; null for a trait without one.</summary>
    public MarkerView? MarkerOf(KeptTrait kept, TraitPage page)
    {
        if (kept.CarrierTints.IsEmpty)
        {
            return null;
        }

        TintMarker marker = TintRecord.Marker(kept.Trait.Key, kept.CarrierTints);
        return tints.View(marker, tints.Count(kept.Trait, marker, clutch => SharesOf(clutch, kept.Trait, page)));
    }

    /// <summary>The pairing as Core has it. A clutch without a sire's name and copies was laid without one, as far as is known.</summary>
    public static Pairing PairingOf(BookedClutch clutch, PairingRecord pairing, Trait trait) => new(
        trait, ParentCopies.Known(pairing.DamCopies),
        pairing.SireCopies is { } copies ? ParentCopies.Known(copies) : clutch.Clutch.Sire is null ? ParentCopies.None : ParentCopies.Unknown);

    private PairingView View(BookedClutch clutch, PairingRecord pairing, KeptTrait kept, TraitPage page)
    {
        Trait trait = kept.Trait;
        CrossExpectation expected = Cross.Expect(PairingOf(clutch, pairing, trait));
        Fraction? share = expected.LeastCarriers == expected.MostCarriers ? expected.LeastCarriers : null;
        // A slug was never fertile: what a pairing throws is shared out among the others.
        int eggs = clutch.Eggs.Count(egg => egg.Status.Status != EggStatus.Slug);
        (GlowingView? glowing, LikelihoodView? likelihood) = kept.CarrierTints.IsEmpty ? (null, null) : Glow(clutch, kept, share);
        return new PairingView(
            trait.Key, trait.Name, GeneticsWords.Word(trait.Inheritance), pairing.DamCopies, pairing.SireCopies,
            [.. (expected.Shares?.ByCopies ?? []).Select(s => new ShareView(
                s.Copies, s.Share.ToString(), s.Share.Value, Looks.Words(s.Look, trait.Name)))],
            share is { } exact ? Spread(eggs, exact.Value) : null, glowing, likelihood, MarkerOf(kept, page), expected.Words);
    }

    private static ExpectedView Spread(int eggs, double share)
    {
        (int low, int high) = Binomial.ExpectedCounts(eggs, share);
        return new ExpectedView(eggs * share, low, high);
    }

    private static (GlowingView Glowing, LikelihoodView? Likelihood) Glow(BookedClutch clutch, KeptTrait kept, Fraction? share)
    {
        GlowCount glow = TintRecord.Glowing(clutch, TintRecord.Marker(kept.Trait.Key, kept.CarrierTints));
        LikelihoodView? likelihood = null;
        if (share is { } exact)
        {
            CarrierCount count = CarrierCount.Judge(glow.Carrier, glow.Carrier + glow.Other, exact);
            likelihood = new LikelihoodView(count.P, count.Words);
        }

        return (new GlowingView(glow.Carrier, glow.Other, glow.Unsure), likelihood);
    }

    private static CrossShares? SharesOf(BookedClutch clutch, Trait trait, TraitPage page)
        => page.Pairings[clutch.Id].FirstOrDefault(p => p.Trait == trait.Key) is { } pairing
            ? Cross.Expect(PairingOf(clutch, pairing, trait)).Shares
            : null;
}
