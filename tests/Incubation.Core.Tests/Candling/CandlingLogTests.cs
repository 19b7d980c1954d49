using CsCheck;
using Incubation.Core.Candling;
using Incubation.Core.Clutches;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Candling;

public sealed class CandlingLogTests
{
    private static readonly CandlingEntry First = Some.Look(1, Finding.Spot);

    [Fact]
    public void Append_of_two_people_at_the_same_egg_keeps_both()
    {
        CandlingLog log = CandlingLog.Of([First, Some.Look(2, Finding.NoVeins) with { At = First.At, By = "Jonas" }]);

        Assert.Equal(["Mara", "Jonas"], log.Standing(1).Select(entry => entry.By));
    }

    [Fact]
    public void Append_of_the_same_entry_again_changes_nothing()
    {
        CandlingLog log = CandlingLog.Of([First]);
        (CandlingLog again, AppendOutcome outcome) = log.Append(First with { EnteredAt = First.EnteredAt + Duration.FromDays(2) });

        Assert.Equal(AppendOutcome.AlreadyThere, outcome);
        Assert.Same(log, again);
    }

    [Fact]
    public void Append_of_another_body_under_the_same_id_keeps_the_first()
    {
        (CandlingLog log, AppendOutcome outcome) = CandlingLog.Of([First]).Append(First with { Shell = ["mould"] });

        Assert.Equal(AppendOutcome.IdTaken, outcome);
        Assert.Empty(log.Standing(1)[0].Findings);
    }

    [Fact]
    public void History_after_a_correction_reads_both()
    {
        CandlingLog log = CandlingLog.Of([First, Some.Look(2, Finding.FullNet) with { Supersedes = First.Id }]);

        Assert.Equal([false, true], log.History(1).Select(logged => logged.Stands));
        Assert.Equal(Veins.FullNet, Assert.Single(log.Standing(1)).Veins);
    }

    [Fact]
    public void Standing_after_two_people_corrected_the_same_entry_keeps_both_corrections()
    {
        CandlingLog log = CandlingLog.Of(
        [
            First, Some.Look(2, Finding.FullNet) with { Supersedes = First.Id }, Some.Look(3, Finding.Ring) with { Supersedes = First.Id },
        ]);

        Assert.Equal(2, log.Standing(1).Count);
        Assert.Equal(2, log.History(1)[0].SupersededBy.Length);
    }

    [Fact]
    public void Append_of_a_correction_of_itself_of_another_egg_or_in_a_circle_is_refused()
    {
        CandlingLog log = CandlingLog.Of([First, Some.Look(2) with { Supersedes = Some.Id(3) }]);

        Assert.Equal(AppendOutcome.CorrectsWrongly, log.Append(Some.Look(4) with { Supersedes = Some.Id(4) }).Outcome);
        Assert.Equal(AppendOutcome.CorrectsWrongly, log.Append(Some.Look(4, egg: 2) with { Supersedes = First.Id }).Outcome);
        Assert.Equal(AppendOutcome.CorrectsWrongly, log.Append(Some.Look(3) with { Supersedes = Some.Id(2) }).Outcome);
        Assert.Equal(AppendOutcome.CorrectsWrongly, log.Append(Some.Look(3, egg: 2)).Outcome);
    }

    [Fact]
    public void LastTint_looks_only_at_what_was_seen_before()
    {
        CandlingLog log = CandlingLog.Of(
            [First with { Tint = "greenish" }, Some.Look(5) with { Tint = "dark" }, Some.Look(6) with { Veins = Veins.FullNet }]);

        Assert.Equal("dark", log.LastTint(1));
        Assert.Equal("greenish", log.LastTint(1, Some.Start + Duration.FromDays(3)));
        Assert.Null(log.LastTint(2));
    }

    [Fact]
    public void Log_is_the_same_in_any_order_of_arrival_and_with_repeats()
    {
        // Twelve looks, some of which correct an earlier one of the same egg.
        CandlingEntry[] entries =
        [
            .. Enumerable.Range(1, 12).Select(n => Some.Look(n, (Finding)(n % 8)) with
            {
                Egg = n % 3,
                Supersedes = n % 4 == 0 ? Some.Id(n - 3) : null,
            }),
        ];
        CandlingLog expected = CandlingLog.Of(entries);
        Assert.Equal(12, expected.Count);
        Gen.Shuffle(entries).Select(Gen.Int[0, 12], (order, repeats) => order.Concat(order.Take(repeats))).Sample(arrived =>
        {
            CandlingLog log = CandlingLog.Of(arrived);
            for (int egg = 0; egg < 3; egg++)
            {
                Assert.Equal(
                    expected.History(egg).Select(logged => (logged.Entry, logged.Stands)),
                    log.History(egg).Select(logged => (logged.Entry, logged.Stands)));
            }
        });
    }

    [Fact]
    public void Check_of_an_entry_names_what_is_wrong()
    {
        Instant laid = Some.Start;
        Instant now = Some.Start + Duration.FromDays(10);
        IEnumerable<Remark> Say(CandlingEntry entry) => CandlingRules.Check(entry, [1, 2], laid, now);

        Assert.Empty(Say(First with { Note = "<i>odd</i> 🥚" }));
        Assert.Contains(Say(First with { Egg = 7 }), remark => remark.Refuses && remark.Field == "egg");
        Assert.Contains(Say(Some.Look(1)), remark => remark.Refuses && remark.Words.Contains("Nothing is entered", StringComparison.Ordinal));
        Assert.Contains(Say(First with { MassGrams = double.NaN }), remark => remark.Refuses && remark.Field == "massGrams");
        Assert.Contains(Say(First with { MassGrams = 0.09 }), remark => !remark.Refuses && remark.Field == "massGrams");
        Assert.Contains(Say(First with { At = now + Duration.FromDays(400) }), remark => !remark.Refuses && remark.Field == "at");
        Assert.Contains(Say(First with { Shell = ["mould", "mould"] }), remark => remark.Refuses && remark.Field == "shell");
    }

    [Theory]
    [InlineData(0, null, 0, 1)]
    [InlineData(3, 0, 7, 10)]
    [InlineData(15, 0, 15, 15)]
    [InlineData(12, 8, 21, 30)]
    [InlineData(25, 22, 36, 38)]
    [InlineData(50, 30, 50, 50)]
    [InlineData(30, null, 30, 30)]
    public void NextLook_follows_the_days_of_the_trade_and_is_today_when_overdue(int day, int? last, int from, int to) =>
        Assert.Equal((from, to), CandlingRules.NextLook(day, last));

    [Fact]
    public void Words_of_every_choice_come_back()
    {
        Assert.All(Enum.GetValues<Veins>(), veins => Assert.Equal(veins, CandlingWords.VeinsOf(CandlingWords.Word(veins))));
        Assert.All(Enum.GetValues<SlugLook>(), look => Assert.Equal(look, CandlingWords.SlugLookOf(CandlingWords.Word(look))));
        Assert.Equal(8, Enum.GetValues<EggStatus>().Select(CandlingWords.Word).Append("").Distinct().Count());
    }
}
