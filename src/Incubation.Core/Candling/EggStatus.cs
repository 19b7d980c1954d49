namespace Incubation.Core.Candling;

/// <summary>What is to be thought of an egg; derived by <see cref="StatusRules"/>, never typed.</summary>
public enum EggStatus
{
    /// <summary>Nothing has been entered that says anything about it.</summary>
    NotLookedAt,

    /// <summary>Signs of life that have not gone back.</summary>
    Developing,

    /// <summary>The signs are missing, going back or at odds: look again.</summary>
    Doubtful,

    /// <summary>Looks like a slug, or was found to be one.</summary>
    Slug,

    /// <summary>A ring was seen, or it was found dead.</summary>
    Dead,

    /// <summary>Pipped and not out yet.</summary>
    Pipped,

    /// <summary>The young is out.</summary>
    Hatched,
}

/// <summary>The findings that bear on the status.</summary>
public enum Finding
{
    /// <summary>Looked for veins and saw none.</summary>
    NoVeins,

    /// <summary>A red spot.</summary>
    Spot,

    /// <summary>Spreading vessels.</summary>
    Spreading,

    /// <summary>A full net.</summary>
    FullNet,

    /// <summary>Fading vessels.</summary>
    Fading,

    /// <summary>A ring.</summary>
    Ring,

    /// <summary>The embryo moved.</summary>
    Movement,

    /// <summary>Looks like a slug.</summary>
    LooksLikeSlug,
}

/// <summary>A rule a keeper can read.</summary>
/// <param name="Number">Its place in the order; the first that fits holds.</param>
/// <param name="Status">What it says.</param>
/// <param name="Words">When it holds, and why.</param>
public sealed record StatusRule(int Number, EggStatus Status, string Words);

/// <summary>A status with the rule that gave it and the entries it rests on.</summary>
/// <param name="Status">The status.</param>
/// <param name="Rule">The rule that held.</param>
/// <param name="RestsOn">Ids of the candling entries or outcomes it rests on, oldest first; empty when nothing was entered.</param>
public sealed record DerivedStatus(EggStatus Status, StatusRule Rule, IReadOnlyList<Guid> RestsOn);

/// <summary>The eggs of a clutch counted by status.</summary>
/// <param name="Laid">All eggs.</param>
/// <param name="NotLookedAt">Nothing entered yet.</param>
/// <param name="Alive">Developing or pipped.</param>
/// <param name="Doubtful">Doubtful.</param>
/// <param name="Slug">Slugs.</param>
/// <param name="Dead">Dead.</param>
/// <param name="Hatched">Hatched.</param>
public readonly record struct EggCounts(int Laid, int NotLookedAt, int Alive, int Doubtful, int Slug, int Dead, int Hatched)
{
    /// <summary>Counts one status per egg.</summary>
    public static EggCounts Of(IEnumerable<EggStatus> statuses)
    {
        ArgumentNullException.ThrowIfNull(statuses);
        ILookup<EggStatus, EggStatus> by = statuses.ToLookup(status => status);
        return new EggCounts(
            by.Sum(group => group.Count()),
            by[EggStatus.NotLookedAt].Count(),
            by[EggStatus.Developing].Count() + by[EggStatus.Pipped].Count(),
            by[EggStatus.Doubtful].Count(), by[EggStatus.Slug].Count(), by[EggStatus.Dead].Count(), by[EggStatus.Hatched].Count());
    }
}
