using Incubation.Core.Clutches;

namespace Incubation.Core.Candling;

/// <summary>
/// How an egg's status follows from what was entered. Only standing entries count; the newest look that bears on the status is
/// "the last look". The rules are common practice, no source; they never say that an egg may be discarded.
/// </summary>
public static class StatusRules
{
    private static readonly StatusRule Out = new(1, EggStatus.Hatched, "The young is recorded as out.");
    private static readonly StatusRule FoundDead = new(2, EggStatus.Dead, "Recorded as dead in the egg.");
    private static readonly StatusRule FoundSlug = new(3, EggStatus.Slug, "Recorded as a slug.");
    private static readonly StatusRule Pipped = new(4, EggStatus.Pipped, "Recorded as pipped; the young is not out yet.");
    private static readonly StatusRule Nothing = new(5, EggStatus.NotLookedAt,
        "Nothing has been entered about veins, movement or looking like a slug.");
    private static readonly StatusRule AtOdds = new(6, EggStatus.Doubtful,
        "The last look has signs that exclude each other (life together with a ring or a slug): look again.");
    private static readonly StatusRule Moves = new(7, EggStatus.Developing,
        "Movement was seen at the last look: alive, whatever was thought before.");
    private static readonly StatusRule Ring = new(8, EggStatus.Dead,
        "A ring was seen, and no movement since: vessels that have drawn back into a ring mean that the embryo is dead.");
    private static readonly StatusRule VeinsAfterRing = new(9, EggStatus.Doubtful,
        "Veins at the last look, but a ring before that: a ring does not go back, so one of the two looks was wrong.");
    private static readonly StatusRule SlugAfterLife = new(10, EggStatus.Doubtful,
        "Looks like a slug at the last look, but signs of life were seen before: a slug never has any.");
    private static readonly StatusRule Fading = new(11, EggStatus.Doubtful,
        "The veins were fading at the last look: look again in a few days.");
    private static readonly StatusRule Lost = new(12, EggStatus.Doubtful,
        "No veins at the last look, though signs of life were seen before: look again in a few days.");
    private static readonly StatusRule FewerVeins = new(13, EggStatus.Doubtful,
        "Fewer veins at the last look than before: look again in a few days.");
    private static readonly StatusRule Veins = new(14, EggStatus.Developing,
        "Veins at the last look, and no fewer than before.");
    private static readonly StatusRule LooksLikeSlug = new(15, EggStatus.Slug,
        "Looks like a slug, and no sign of life was ever seen. Leave it in and look again after one or two weeks.");
    private static readonly StatusRule NoSign = new(16, EggStatus.Doubtful,
        "No sign of life seen yet: look again after one or two weeks.");

    /// <summary>All rules in their order; the first that fits holds.</summary>
    public static IReadOnlyList<StatusRule> All { get; } =
    [
        Out, FoundDead, FoundSlug, Pipped, Nothing, AtOdds, Moves, Ring, VeinsAfterRing, SlugAfterLife, Fading, Lost, FewerVeins,
        Veins, LooksLikeSlug, NoSign,
    ];

    /// <summary>The status of one egg.</summary>
    /// <param name="standing">Standing entries of the egg (<see cref="CandlingLog.Standing"/>), in order of looking.</param>
    /// <param name="outcomes">All outcomes recorded for the egg; superseded ones are left out here.</param>
    public static DerivedStatus Derive(IReadOnlyList<CandlingEntry> standing, IReadOnlyList<Outcome> outcomes)
    {
        ArgumentNullException.ThrowIfNull(standing);
        ArgumentNullException.ThrowIfNull(outcomes);
        return ByOutcome(outcomes) ?? ByLooks([.. standing.Select(Look.Of).Where(look => look.Bears)]);
    }

    /// <summary>The findings of one entry that bear on the status.</summary>
    public static IReadOnlyList<Finding> FindingsOf(CandlingEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        var findings = new List<Finding>(3);
        if (entry.Veins is { } veins)
        {
            findings.Add((Finding)(int)veins);
        }

        if (entry.MovementSeen == true)
        {
            findings.Add(Finding.Movement);
        }

        if (entry.LooksLikeSlug == SlugLook.Yes)
        {
            findings.Add(Finding.LooksLikeSlug);
        }

        return findings;
    }

    // A pip is overtaken by anything that came of it; of the rest the latest holds.
    private static DerivedStatus? ByOutcome(IReadOnlyList<Outcome> outcomes)
    {
        HashSet<Guid> corrected = [.. outcomes.Where(outcome => outcome.Supersedes is not null).Select(outcome => outcome.Supersedes!.Value)];
        Outcome? holds = outcomes.Where(outcome => !corrected.Contains(outcome.Id))
            .OrderBy(outcome => outcome.Kind != OutcomeKind.FirstPip).ThenBy(outcome => outcome.At).ThenBy(outcome => outcome.Id)
            .LastOrDefault();
        return holds is null ? null : Say(RuleOf(holds.Kind), holds.Id);
    }

    private static StatusRule RuleOf(OutcomeKind kind) => kind switch
    {
        OutcomeKind.Out => Out,
        OutcomeKind.DeadInEgg => FoundDead,
        OutcomeKind.Slug => FoundSlug,
        _ => Pipped,
    };

    private static DerivedStatus ByLooks(Look[] looks)
    {
        if (looks.Length == 0)
        {
            return new DerivedStatus(Nothing.Status, Nothing, []);
        }

        Look last = looks[^1];
        if (last.AtOdds)
        {
            return Say(AtOdds, last.Id);
        }

        if (last.Moves)
        {
            return Say(Moves, last.Id);
        }

        Look[] earlier = looks[..^1];
        // Movement proves life: a ring or slug thought of before it counts no more.
        Look[] since = [.. earlier.Reverse().TakeWhile(look => !look.Moves).Reverse()];
        Look? ring = Array.FindLast(since, look => look.Ring);
        Look? life = Array.FindLast(earlier, look => look.Life);
        if (last.Ring || (ring is not null && !last.Life))
        {
            return Say(Ring, last.Ring ? [last.Id] : [ring!.Id, last.Id]);
        }

        if (last.Life)
        {
            Look? fuller = Array.FindLast(earlier, look => look.Grade > last.Grade);
            return ring is not null ? Say(VeinsAfterRing, ring.Id, last.Id)
                : fuller is not null ? Say(FewerVeins, fuller.Id, last.Id)
                : Say(Veins, last.Id);
        }

        if (last.Fading)
        {
            return life is null ? Say(Fading, last.Id) : Say(Fading, life.Id, last.Id);
        }

        // What is left is "no veins" or an answer about slugs.
        Look? faded = Array.FindLast(earlier, look => look.Life || look.Fading);
        if (faded is not null)
        {
            return Say(last.Slug == SlugLook.Yes ? SlugAfterLife : Lost, faded.Id, last.Id);
        }

        Look answer = Array.FindLast(looks, look => look.Slug is not null) ?? last;
        return answer.Slug == SlugLook.Yes
            ? Say(LooksLikeSlug, [.. new[] { answer.Id, last.Id }.Distinct()])
            : Say(NoSign, [.. looks.Select(look => look.Id)]);
    }

    private static DerivedStatus Say(StatusRule rule, params Guid[] restsOn) => new(rule.Status, rule, restsOn);

    private sealed record Look(Guid Id, Veins? Seen, bool Moves, SlugLook? Slug)
    {
        public bool Bears => Seen is not null || Moves || Slug is not null;

        public bool Ring => Seen == Candling.Veins.Ring;

        public bool Fading => Seen == Candling.Veins.Fading;

        public int Grade => Seen switch
        {
            Candling.Veins.Spot => 1,
            Candling.Veins.Spreading => 2,
            Candling.Veins.FullNet => 3,
            _ => 0,
        };

        public bool Life => Moves || Grade > 0;

        public bool AtOdds => (Moves && Ring) || (Slug == SlugLook.Yes && (Life || Fading || Ring));

        public static Look Of(CandlingEntry entry) =>
            new(entry.Id, entry.Veins, entry.MovementSeen == true, entry.LooksLikeSlug);
    }
}
