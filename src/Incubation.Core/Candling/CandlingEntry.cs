using System.Collections.Immutable;
using NodaTime;

namespace Incubation.Core.Candling;

/// <summary>What the vessels looked like under the lamp, in the words of the trade (common practice, no source).</summary>
public enum Veins
{
    /// <summary>None seen.</summary>
    None,

    /// <summary>A red spot, the first sign.</summary>
    Spot,

    /// <summary>Vessels spreading from the spot.</summary>
    Spreading,

    /// <summary>A net all round.</summary>
    FullNet,

    /// <summary>Vessels paler or fewer than they were.</summary>
    Fading,

    /// <summary>A ring, the vessels drawn back: dead.</summary>
    Ring,
}

/// <summary>The keeper's answer to "looks like a slug".</summary>
public enum SlugLook
{
    /// <summary>Looks like one.</summary>
    Yes,

    /// <summary>Cannot say.</summary>
    Unsure,

    /// <summary>Does not.</summary>
    No,
}

/// <summary>One look at one egg. Never changed: a correction is another entry that supersedes this one, and both stay readable.</summary>
/// <param name="Id">Made by the client, so that sending it again changes nothing.</param>
/// <param name="Egg">Number of the egg.</param>
/// <param name="Tint">Key of the keeper's tint term, or null.</param>
/// <param name="Veins">Vessels, or null when not looked for.</param>
/// <param name="MovementSeen">Whether the embryo moved, or null when not watched for.</param>
/// <param name="Shell">Shell findings, keys of the keeper's terms.</param>
/// <param name="LooksLikeSlug">Answer, or null when not asked.</param>
/// <param name="MassGrams">Mass, g, or null when not weighed.</param>
/// <param name="Note">The keeper's note, or empty.</param>
/// <param name="By">Who looked.</param>
/// <param name="At">When, by the clock of the phone.</param>
/// <param name="EnteredAt">When it reached the service.</param>
/// <param name="Supersedes">Id of the entry this one corrects, or null.</param>
public sealed record CandlingEntry(
    Guid Id, int Egg, string? Tint, Veins? Veins, bool? MovementSeen, ImmutableArray<string> Shell, SlugLook? LooksLikeSlug,
    double? MassGrams, string Note, string By, Instant At, Instant EnteredAt, Guid? Supersedes)
{
    /// <summary>Whether another entry says the same of the same egg; when it reached the service does not count.</summary>
    public bool SaysTheSame(CandlingEntry? other) => other is not null
        && this with { EnteredAt = default, Shell = [] } == other with { EnteredAt = default, Shell = [] }
        && Findings.SequenceEqual(other.Findings);

    /// <summary>Shell findings; empty where the array was never set.</summary>
    public ImmutableArray<string> Findings => Shell.IsDefault ? [] : Shell;
}
