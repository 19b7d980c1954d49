using System.Text.Json.Serialization;
using Incubation.Core.Candling;
using Incubation.Service.Clutches;
using NodaTime;

namespace Incubation.Service.Candling;

/// <summary>What one egg showed under the lamp, as a keeper enters it; what was not looked for is left out or null.</summary>
/// <param name="Egg">Number of the egg.</param>
/// <param name="Tint">Key of a tint term.</param>
/// <param name="Veins">"none", "spot", "spreading", "full net", "fading" or "ring".</param>
/// <param name="MovementSeen">Whether the embryo moved.</param>
/// <param name="Shell">Keys of shell terms.</param>
/// <param name="LooksLikeSlug">"yes", "unsure" or "no".</param>
/// <param name="MassGrams">Mass, g.</param>
/// <param name="Note">Free text.</param>
/// <param name="At">When it was looked at.</param>
/// <param name="Supersedes">Id of the entry that this one corrects, or null.</param>
internal sealed record CandlingRequest(
    int? Egg, string? Tint, string? Veins, bool? MovementSeen, IReadOnlyList<string?>? Shell, string? LooksLikeSlug, double? MassGrams,
    string? Note, string? At, Guid? Supersedes);

/// <summary>One look as it is on record.</summary>
internal sealed record CandlingView(
    Guid Id, int Egg, string? Tint, string? TintWord, string? Veins, bool? MovementSeen, IReadOnlyList<string> Shell, string? LooksLikeSlug,
    double? MassGrams, string? Note, Instant At, Guid? Supersedes, string By, Instant EnteredAt, IReadOnlyList<Guid> SupersededBy)
{
    /// <summary>What was said of the entry that this answers.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<string>? Said { get; init; }

    /// <summary>The egg as it stands after the entry that this answers.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public EggView? EggNow { get; init; }

    public static CandlingView Of(BookedLook look)
    {
        CandlingEntry entry = look.Entry;
        return new CandlingView(
            entry.Id, entry.Egg, entry.Tint, look.TintWord, entry.Veins is { } veins ? CandlingWords.Word(veins) : null, entry.MovementSeen,
            entry.Findings, entry.LooksLikeSlug is { } slug ? CandlingWords.Word(slug) : null, entry.MassGrams,
            entry.Note.Length == 0 ? null : entry.Note, entry.At, entry.Supersedes, entry.By, entry.EnteredAt, look.SupersededBy);
    }
}

/// <summary>A rule by which an egg's status follows from what was entered.</summary>
internal sealed record StatusRuleView(int Number, string Status, string Words);

/// <summary>The words that candling offers.</summary>
/// <param name="Veins">Vein words.</param>
/// <param name="LooksLikeSlug">Answers to "looks like a slug".</param>
/// <param name="Shell">Shell terms.</param>
/// <param name="Rules">The rules of status in their order; the first that fits holds.</param>
internal sealed record CandlingWordsView(
    IReadOnlyList<string> Veins, IReadOnlyList<string> LooksLikeSlug, IReadOnlyList<ShellTerm> Shell, IReadOnlyList<StatusRuleView> Rules);
