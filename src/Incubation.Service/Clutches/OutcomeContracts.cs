using System.Text.Json.Serialization;
using Incubation.Core.Clutches;
using NodaTime;

namespace Incubation.Service.Clutches;

/// <summary>What became of one egg, as a keeper enters it.</summary>
/// <param name="Egg">Number of the egg.</param>
/// <param name="Kind">"first pip", "out", "dead in egg" or "slug".</param>
/// <param name="At">When it was seen.</param>
/// <param name="Trait">Key of a trait that was looked for on the young, or null.</param>
/// <param name="TraitSeen">"none", "one copy", "two copies" or "carries" (copies unknown); with a trait only.</param>
/// <param name="Note">Free text.</param>
/// <param name="Supersedes">Id of the outcome that this one corrects, or null.</param>
internal sealed record OutcomeRequest(
    int? Egg, string? Kind, string? At, string? Trait, string? TraitSeen, string? Note, Guid? Supersedes);

/// <summary>One outcome as it is on record.</summary>
internal sealed record OutcomeView(
    Guid Id, int Egg, string Kind, Instant At, string? Trait, string? TraitSeen, string? Note, Guid? Supersedes, string By,
    Instant EnteredAt, IReadOnlyList<Guid> SupersededBy)
{
    /// <summary>What was said of the entry that this answers.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<string>? Said { get; init; }

    /// <summary>The egg as it stands after the entry that this answers.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public EggView? EggNow { get; init; }

    public static OutcomeView Of(BookedOutcome booked) => new(
        booked.Outcome.Id, booked.Outcome.Egg, OutcomeWords.Word(booked.Outcome.Kind), booked.Outcome.At, booked.Outcome.Trait,
        booked.TraitSeen, booked.Outcome.Note.Length == 0 ? null : booked.Outcome.Note, booked.Outcome.Supersedes, booked.Outcome.By,
        booked.EnteredAt, booked.SupersededBy);
}
