using System.Collections.Frozen;
using System.Collections.Immutable;
using Incubation.Core.Candling;
using Incubation.Core.Clutches;
using Incubation.Core.Genetics;
using NodaTime;

namespace Incubation.Service.Clutches;

/// <summary>Everything on record about one clutch, as it stands: immutable, so that any room may read it without a lock.</summary>
/// <param name="Id">Its id in the records.</param>
/// <param name="Clutch">As entered; its egg count is the number of eggs on record.</param>
/// <param name="Note">The keeper's note, or null.</param>
/// <param name="By">Who entered it.</param>
/// <param name="FinishedAt">When the keeper called it finished, or null.</param>
/// <param name="Eggs">Its eggs by number.</param>
/// <param name="Candlings">All looks at all its eggs, corrected ones included, in order of looking.</param>
/// <param name="Outcomes">All outcomes, corrected ones included, in order of seeing.</param>
/// <param name="Stays">Its stays in tubs, in the order they were entered, as Core's placement chain wants them.</param>
internal sealed record BookedClutch(
    Guid Id, Clutch Clutch, string? Note, string By, Instant? FinishedAt, ImmutableArray<BookedEgg> Eggs,
    ImmutableArray<BookedLook> Candlings, ImmutableArray<BookedOutcome> Outcomes, ImmutableArray<TubStay> Stays)
{
    public string Key => Clutch.Key;

    /// <summary>Its species, or null when a newer program entered one that this one does not know.</summary>
    public Species? Species => SpeciesCatalogue.Find(Clutch.Species);

    /// <summary>The eggs counted by status.</summary>
    public EggCounts Counts => EggCounts.Of(Eggs.Select(egg => egg.Status.Status));

    /// <summary>Whether any egg has pipped or hatched by the record.</summary>
    public bool Hatching => Eggs.Any(egg => egg.Status.Status is EggStatus.Pipped or EggStatus.Hatched);

    /// <summary>The egg of that number, or null.</summary>
    public BookedEgg? Egg(int number) => Eggs.FirstOrDefault(egg => egg.Place.Number == number);
}

/// <summary>One egg: where it lies, what was seen, what is to be thought of it.</summary>
/// <param name="Id">Its id in the records.</param>
/// <param name="Place">Its number and where it lies.</param>
/// <param name="Status">Derived by Core's rules from its standing looks and outcomes.</param>
/// <param name="Looks">All looks at it, in order of looking, with what corrects them.</param>
/// <param name="Outcome">The outcome that holds, or null.</param>
internal sealed record BookedEgg(
    Guid Id, Egg Place, DerivedStatus Status, ImmutableArray<LoggedEntry> Looks, BookedOutcome? Outcome)
{
    /// <summary>The looks that stand, in order of looking.</summary>
    public IEnumerable<CandlingEntry> Standing => Looks.Where(look => look.Stands).Select(look => look.Entry);

    /// <summary>The last standing look that has a tint, or null; with <paramref name="before"/> only looks before it count.</summary>
    public CandlingEntry? LastTinted(Instant? before = null)
        => Standing.LastOrDefault(entry => entry.Tint is not null && (before is null || entry.At < before));
}

/// <summary>One look with the keeper's word for its tint as it was then.</summary>
internal sealed record BookedLook(CandlingEntry Entry, string? TintWord, ImmutableArray<Guid> SupersededBy);

/// <summary>One outcome.</summary>
/// <param name="Outcome">As Core has it.</param>
/// <param name="EnteredAt">When it reached the service.</param>
/// <param name="SupersededBy">Ids of the outcomes that correct it; empty when it stands.</param>
internal sealed record BookedOutcome(Outcome Outcome, Instant EnteredAt, ImmutableArray<Guid> SupersededBy)
{
    /// <summary>The word for what was seen of the trait, or null when not judged.</summary>
    public string? TraitSeen => Outcome.TraitSeen is { } seen ? GeneticsWords.Word(seen) : null;

    public bool Stands => SupersededBy.IsEmpty;
}

/// <summary>A tub and where it stood.</summary>
/// <param name="Tub">As Core has it.</param>
/// <param name="Stays">Its stays in incubators, in the order they were entered.</param>
internal sealed record BookedTub(Tub Tub, ImmutableArray<IncubatorStay> Stays)
{
    /// <summary>Where it stands now, or null.</summary>
    public IncubatorStay? Now => Stays.LastOrDefault(stay => stay.Until is null);
}

/// <summary>All clutches and tubs at one moment.</summary>
/// <param name="Clutches">By key.</param>
/// <param name="Tubs">By key.</param>
internal sealed record ClutchBookPage(
    FrozenDictionary<string, BookedClutch> Clutches, FrozenDictionary<string, BookedTub> Tubs)
{
    public static ClutchBookPage Empty { get; } =
        new(FrozenDictionary<string, BookedClutch>.Empty, FrozenDictionary<string, BookedTub>.Empty);

    /// <summary>All stays of all tubs, as Core's placement chain wants them.</summary>
    public IReadOnlyList<IncubatorStay> TubStays => [.. Tubs.Values.SelectMany(tub => tub.Stays)];

    /// <summary>Key of the tub that a placed probe lies in by <see cref="ProbeWhere"/>'s rule, or null in the incubator's air.</summary>
    /// <param name="recorded">The tub on record, or null.</param>
    /// <param name="where">The keeper's words for where it is.</param>
    /// <param name="incubator">Key of its incubator.</param>
    public string? TubOfProbe(string? recorded, string where, string incubator)
        => recorded ?? ProbeWhere.Tub(where, [.. Tubs.Values.Where(tub => tub.Now?.Incubator == incubator).Select(tub => (tub.Tub.Key, tub.Tub.Name))]);
}
