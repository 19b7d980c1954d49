using Incubation.Core.Candling;
using Incubation.Core.Clutches;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Candling;

public sealed class StatusRulesTests
{
    private static readonly Finding[] Eight = Enum.GetValues<Finding>();

    private static DerivedStatus Of(params Finding[] findings) =>
        StatusRules.Derive([.. findings.Select((finding, i) => Some.Look(i + 1, finding))], []);

    private static Outcome Came(OutcomeKind kind, int n, Guid? supersedes = null) =>
        new(Some.Id(100 + n), 1, kind, Some.Start + Duration.FromDays(60 + n), "Mara", null, null, "", supersedes);

    [Fact]
    public void Derive_of_nothing_is_not_looked_at_and_rests_on_nothing()
    {
        DerivedStatus status = StatusRules.Derive([], []);

        Assert.Equal(EggStatus.NotLookedAt, status.Status);
        Assert.Empty(status.RestsOn);
    }

    [Fact]
    public void Derive_of_a_tint_alone_says_nothing_about_the_egg() =>
        Assert.Equal(EggStatus.NotLookedAt, StatusRules.Derive([Some.Look(1) with { Tint = "pink" }], []).Status);

    [Theory]
    [InlineData(EggStatus.Developing, Finding.Spot)]
    [InlineData(EggStatus.Developing, Finding.Spot, Finding.Spreading, Finding.FullNet)]
    [InlineData(EggStatus.Doubtful, Finding.FullNet, Finding.Spot)]
    [InlineData(EggStatus.Doubtful, Finding.FullNet, Finding.Fading)]
    [InlineData(EggStatus.Developing, Finding.FullNet, Finding.Fading, Finding.FullNet)]
    [InlineData(EggStatus.Doubtful, Finding.FullNet, Finding.NoVeins)]
    [InlineData(EggStatus.Doubtful, Finding.NoVeins)]
    [InlineData(EggStatus.Doubtful, Finding.NoVeins, Finding.NoVeins)]
    [InlineData(EggStatus.Developing, Finding.NoVeins, Finding.Spot)]
    [InlineData(EggStatus.Slug, Finding.LooksLikeSlug)]
    [InlineData(EggStatus.Slug, Finding.LooksLikeSlug, Finding.NoVeins)]
    [InlineData(EggStatus.Developing, Finding.LooksLikeSlug, Finding.Spot)]
    [InlineData(EggStatus.Doubtful, Finding.Spot, Finding.LooksLikeSlug)]
    [InlineData(EggStatus.Dead, Finding.Ring)]
    [InlineData(EggStatus.Dead, Finding.Ring, Finding.NoVeins)]
    [InlineData(EggStatus.Dead, Finding.Ring, Finding.Fading)]
    [InlineData(EggStatus.Dead, Finding.Ring, Finding.LooksLikeSlug)]
    [InlineData(EggStatus.Doubtful, Finding.Ring, Finding.Spreading)]
    [InlineData(EggStatus.Developing, Finding.Ring, Finding.Movement)]
    [InlineData(EggStatus.Doubtful, Finding.Ring, Finding.Movement, Finding.Fading)]
    [InlineData(EggStatus.Doubtful, Finding.Movement, Finding.LooksLikeSlug)]
    public void Derive_of_these_looks_gives_the_status_a_keeper_would(EggStatus status, params Finding[] findings) =>
        Assert.Equal(status, Of(findings).Status);

    [Fact]
    public void Derive_of_every_sequence_up_to_three_gives_a_status_that_rests_on_its_last_look()
    {
        Finding[][] sequences =
        [
            .. Eight.Select(a => new[] { a }),
            .. Eight.SelectMany(a => Eight.Select(b => new[] { a, b })),
            .. Eight.SelectMany(a => Eight.SelectMany(b => Eight.Select(c => new[] { a, b, c }))),
        ];
        Assert.Equal(584, sequences.Length);
        var seen = new HashSet<int>();
        foreach (Finding[] sequence in sequences)
        {
            DerivedStatus status = Of(sequence);
            seen.Add(status.Rule.Number);
            string row = string.Join(" → ", sequence.Select(CandlingWords.Word)) + ": " + CandlingWords.Word(status.Status);
            Assert.True(status.RestsOn.Contains(Some.Id(sequence.Length)), row);
            Assert.True(Expected(sequence).Contains(status.Status), row);
        }

        // Outcomes, no entries and contradictions within one look are the rules that no such sequence reaches.
        Assert.Equal([7, 8, 9, 10, 11, 12, 13, 14, 15, 16], seen.Order());
    }

    // What must hold whatever the rules' order: written from the keeper's side, not from the rules.
    private static EggStatus[] Expected(Finding[] sequence)
    {
        Finding last = sequence[^1];
        bool life = sequence.Any(f => f is Finding.Spot or Finding.Spreading or Finding.FullNet or Finding.Movement);
        int moved = Array.LastIndexOf(sequence, Finding.Movement);
        bool ringSinceMoved = sequence.Skip(moved + 1).Contains(Finding.Ring);
        return last switch
        {
            Finding.Movement => [EggStatus.Developing],
            Finding.Ring => [EggStatus.Dead],
            Finding.Spot or Finding.Spreading or Finding.FullNet =>
                ringSinceMoved ? [EggStatus.Doubtful] : [EggStatus.Developing, EggStatus.Doubtful],
            _ when ringSinceMoved => [EggStatus.Dead],
            Finding.Fading => [EggStatus.Doubtful],
            Finding.LooksLikeSlug when !life && !sequence.Contains(Finding.Fading) => [EggStatus.Slug],
            Finding.NoVeins when !life => [EggStatus.Doubtful, EggStatus.Slug],
            _ => [EggStatus.Doubtful],
        };
    }

    [Fact]
    public void Derive_of_life_and_slug_in_one_look_is_doubtful() =>
        Assert.Equal(6, StatusRules.Derive([Some.Look(1, Finding.Spot) with { LooksLikeSlug = SlugLook.Yes }], []).Rule.Number);

    [Fact]
    public void Derive_after_the_slug_answer_was_taken_back_is_doubtful() =>
        Assert.Equal(EggStatus.Doubtful,
            StatusRules.Derive([Some.Look(1, Finding.LooksLikeSlug), Some.Look(2) with { LooksLikeSlug = SlugLook.No }], []).Status);

    [Theory]
    [InlineData(OutcomeKind.FirstPip, EggStatus.Pipped)]
    [InlineData(OutcomeKind.Out, EggStatus.Hatched)]
    [InlineData(OutcomeKind.DeadInEgg, EggStatus.Dead)]
    [InlineData(OutcomeKind.Slug, EggStatus.Slug)]
    public void Derive_of_an_outcome_outranks_every_look(OutcomeKind kind, EggStatus status) =>
        Assert.Equal(status, StatusRules.Derive([Some.Look(1, Finding.Ring)], [Came(kind, 1)]).Status);

    [Fact]
    public void Derive_of_out_before_a_late_entered_pip_is_hatched() =>
        Assert.Equal(EggStatus.Hatched, StatusRules.Derive([], [Came(OutcomeKind.Out, 1), Came(OutcomeKind.FirstPip, 2)]).Status);

    [Fact]
    public void Derive_of_a_corrected_outcome_goes_by_the_correction()
    {
        Outcome dead = Came(OutcomeKind.DeadInEgg, 2);
        DerivedStatus status = StatusRules.Derive([], [dead, Came(OutcomeKind.FirstPip, 1, dead.Id)]);

        Assert.Equal(EggStatus.Pipped, status.Status);
        Assert.Equal([Some.Id(101)], status.RestsOn);
    }

    [Fact]
    public void All_rules_are_numbered_in_order_and_worded_for_a_keeper()
    {
        Assert.Equal(Enumerable.Range(1, StatusRules.All.Count), StatusRules.All.Select(rule => rule.Number));
        Assert.All(StatusRules.All, rule => Assert.EndsWith(".", rule.Words, StringComparison.Ordinal));
    }

    [Fact]
    public void Of_counts_every_egg_once()
    {
        EggCounts counts = EggCounts.Of([.. Enum.GetValues<EggStatus>(), EggStatus.Hatched]);

        Assert.Equal(new EggCounts(8, 1, 2, 1, 1, 1, 2), counts);
    }
}
