using CsCheck;
using Incubation.Core.Readings;
using Incubation.Storage.Influx;
using Incubation.Storage.Readings;
using Incubation.Storage.Tests.Readings;
using Xunit;

namespace Incubation.Storage.Tests.Influx;

/// <summary>The outbox and what sends it, with another side that answers as it is told.</summary>
public sealed class CopyTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Every_stored_reading_goes_out_once_and_its_entry_leaves_with_the_next_commit()
    {
        await using CopiedStore it = new();
        ScriptedWriter there = new();
        using InfluxCopy copy = it.Copy(there);
        await it.Store.StoreAsync(new[] { Some.Reading(0), Some.Reading(1_000), Some.Reading(0) }, Token);
        Assert.Equal((2, 0, false), it.Outbox.Counts);

        await Working.UntilIdleAsync(copy, Token);

        Assert.Equal([PointLine.Of(Some.Reading(0)), PointLine.Of(Some.Reading(1_000))], there.Kept.Values);
        Assert.Equal((0, 0, false), it.Outbox.Counts);
        await it.Store.StoreAsync(new[] { Some.Reading(2_000) }, Token);
        Assert.Equal(1, it.Rows("copy_outbox"));
        Assert.Equal("1 reading waits to be copied.", copy.View().Words);
        await Working.UntilIdleAsync(copy, Token);
        Assert.Equal([2, 1], there.Sizes);
        Assert.Equal("Everything is copied.", copy.View().Words);
    }

    [Fact]
    public async Task A_day_that_the_copy_still_waits_for_is_not_given_up_and_goes_once_it_is_copied()
    {
        await using CopiedStore it = new(target: null);
        await it.Store.ImportAsync(Enumerable.Range(0, 72).Select(i => Some.Reading(i * 3_600_000L)), Token);
        await it.Store.SealAsync(Some.At(48 * 3_600_000L), Token);
        await it.ReopenAsync("there");
        ScriptedWriter there = new();
        using InfluxCopy copy = it.Copy(there);
        Dictionary<string, int> keep = new() { ["temperature"] = 1 };

        Assert.Equal(0, await it.Store.DropAsync(Some.After, keep, new NoneKept(), Token));
        Assert.Equal(72, it.Store.Read(Some.Series(), Some.Before, Some.After).Count);
        Assert.Empty(it.Store.Gone(Some.Series(), Some.Before, Some.After));
        await Working.UntilIdleAsync(copy, Token);
        // That a day was copied is noted with the next commit.
        await it.Store.StoreAsync(new[] { Some.Reading(99 * 86_400_000L) }, Token);

        Assert.Equal(4, await it.Store.DropAsync(Some.After, keep, new NoneKept(), Token));
        Assert.Equal(72, there.Kept.Count);
        Assert.Single(it.Store.Gone(Some.Series(), Some.Before, Some.After));
    }

    private sealed class NoneKept : IKeptDays
    {
        public bool MustKeep(SeriesKey series, NodaTime.Instant from, NodaTime.Instant to) => false;
    }

    [Fact]
    public async Task A_reading_that_steps_aside_for_a_probes_own_time_ends_up_the_same_in_the_copy()
    {
        await using CopiedStore it = new();
        ScriptedWriter there = new();
        using InfluxCopy copy = it.Copy(there);
        await it.Store.StoreAsync(new[] { Some.Reading(0, 30, marks: ReadingMarks.ArrivalTime) }, Token);
        await Working.UntilIdleAsync(copy, Token);
        await it.Store.StoreAsync(new[] { Some.Reading(0, -127, marks: ReadingMarks.Faulty) }, Token);
        await Working.UntilIdleAsync(copy, Token);

        IReadOnlyList<Reading> stored = it.Store.Read(Some.Series(), Some.Before, Some.After);
        Assert.Equal(2, stored.Count);
        Assert.Equal(stored.Select(r => PointLine.Of(r)).Order(StringComparer.Ordinal), there.Kept.Values.Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task A_refused_point_is_found_and_set_aside_with_the_reason_and_the_others_arrive()
    {
        await using CopiedStore it = new();
        ScriptedWriter there = new() { Answer = Refusing("value=66,") };
        using InfluxCopy copy = it.Copy(there);
        await it.Store.ImportAsync(Enumerable.Range(0, 1_000).Select(i => Some.Reading(i * 1_000, i is 13 or 700 ? 66 : 30)), Token);

        await Working.UntilIdleAsync(copy, Token);

        Assert.Equal(998, there.Kept.Count);
        Assert.Equal(2, copy.View().Refused);
        Assert.InRange(there.Sizes.Count, 20, 60);
        await it.Store.StoreAsync(new[] { Some.Reading(5_000_000) }, Token);
        IReadOnlyList<RefusedCopy> refused = copy.Refused(10);
        Assert.Equal([13, 700], refused.Select(r => (int)(r.Reading.At - Some.At(0)).TotalSeconds).Order());
        Assert.All(refused, r => Assert.Equal("field type conflict", r.Reason));

        await it.ReopenAsync();
        there.Answer = _ => null;
        using InfluxCopy after = it.Copy(there);
        await Working.UntilIdleAsync(after, Token);
        Assert.Equal(1_001, there.Kept.Count);
        Assert.Equal((0, 0L), (after.View().Refused, after.View().Waiting));
    }

    [Fact]
    public async Task A_bucket_that_refuses_a_whole_day_is_not_asked_point_by_point()
    {
        await using CopiedStore it = new();
        ScriptedWriter there = new() { Answer = Refusing("reading") };
        using InfluxCopy copy = it.Copy(there);
        await it.Store.ImportAsync(Enumerable.Range(0, 4_000).Select(i => Some.Reading(i * 1_000)), Token);

        await Working.UntilIdleAsync(copy, Token);

        Assert.InRange(there.Sizes.Count, 100, 400);
        Assert.Equal(4_000, copy.View().Refused);
        await it.Store.StoreAsync(new[] { Some.Reading(9_000_000) }, Token);
        Assert.Equal(1_000, it.Rows("copy_refused"));
        Assert.Equal(1, it.Rows("copy_day"));

        await it.ReopenAsync();
        there.Answer = _ => null;
        using InfluxCopy after = it.Copy(there);
        await Working.UntilIdleAsync(after, Token);
        Assert.Equal(4_001, there.Kept.Count);
    }

    [Fact]
    public async Task Too_large_a_write_is_halved_and_stays_so()
    {
        await using CopiedStore it = new();
        ScriptedWriter there = new() { Answer = lines => lines.Count > 300 ? new WriteAnswer(413, null, "too large") : null };
        using InfluxCopy copy = it.Copy(there);
        await it.Store.ImportAsync(Enumerable.Range(0, 2_000).Select(i => Some.Reading(i * 1_000)), Token);
        await Working.UntilIdleAsync(copy, Token);
        Assert.Equal(2_000, there.Kept.Count);

        there.Sizes.Clear();
        await it.Store.ImportAsync(Enumerable.Range(0, 2_000).Select(i => Some.Reading(5_000_000 + i * 1_000)), Token);
        await Working.UntilIdleAsync(copy, Token);

        Assert.Equal(4_000, there.Kept.Count);
        Assert.All(there.Sizes, size => Assert.InRange(size, 1, 300));
    }

    [Fact]
    public async Task While_the_other_side_is_away_everything_waits_and_words_say_so()
    {
        await using CopiedStore it = new();
        ScriptedWriter there = new() { Answer = _ => new WriteAnswer(null, null, "connection refused") };
        using InfluxCopy copy = it.Copy(there);
        await it.Store.StoreAsync(new[] { Some.Reading(7_000), Some.Reading(8_000) }, Token);

        Assert.Equal(TimeSpan.FromSeconds(1), await copy.StepAsync(Token));
        Assert.Equal(TimeSpan.FromSeconds(2), await copy.StepAsync(Token));

        CopyView view = copy.View();
        Assert.Equal((CopyCondition.Away, 2L, Some.At(7_000)), (view.Condition, view.Waiting, view.OldestWaiting!.Value));
        Assert.Contains("connection refused", view.Words, StringComparison.Ordinal);
        there.Answer = _ => null;
        await Working.UntilIdleAsync(copy, Token);
        Assert.Equal((CopyCondition.Well, 0L), (copy.View().Condition, copy.View().Waiting));
        Assert.Equal(2, there.Kept.Count);
    }

    [Fact]
    public async Task Beyond_the_bound_days_are_noted_and_nothing_is_missing_in_the_end()
    {
        await using CopiedStore it = new(mostRows: 500);
        ScriptedWriter there = new() { Answer = _ => new WriteAnswer(503, null, "away") };
        using InfluxCopy copy = it.Copy(there);
        Reading[] all = [.. Enumerable.Range(0, 3_000).Select(i => Some.Reading(i * 100_000L, 30 + i % 7 * 0.25, i % 2 == 0 ? "hazel-air" : "moss-floor"))];
        foreach (Reading[] part in all.Chunk(100))
        {
            await it.Store.StoreAsync(part, Token);
            await copy.StepAsync(Token);
        }

        Assert.Equal((500, 0, true), it.Outbox.Counts);
        Assert.Equal(500, it.Rows("copy_outbox"));
        Assert.InRange(it.Rows("copy_day"), 6, 8);
        Assert.Contains("Nothing is left out", copy.View().Words, StringComparison.Ordinal);
        there.Answer = _ => null;
        await Working.UntilIdleAsync(copy, Token);

        Assert.Equal(all.Select(r => PointLine.Of(r)).Order(StringComparer.Ordinal), there.Kept.Values.Order(StringComparer.Ordinal));
        await it.Store.StoreAsync(new[] { Some.Reading(-1) }, Token);
        Assert.Equal((0, 1), (it.Rows("copy_day"), it.Rows("copy_outbox")));
    }

    [Fact]
    public async Task A_new_copy_gets_all_that_is_there_and_one_that_was_given_up_begins_anew()
    {
        await using CopiedStore it = new(target: null);
        Reading[] all = [.. Enumerable.Range(-3, 9).Select(i => Some.Reading(i * 50_000_000L))];
        await it.Store.StoreAsync(all.AsMemory(0, 4), Token);
        await it.ReopenAsync("first");
        ScriptedWriter first = new(), second = new(), again = new();
        using (InfluxCopy copy = it.Copy(first))
        {
            await it.Store.StoreAsync(all.AsMemory(4, 2), Token);
            await Working.UntilIdleAsync(copy, Token);
        }

        Assert.Equal(6, first.Kept.Count);
        await it.ReopenAsync("second");
        using (InfluxCopy copy = it.Copy(second))
        {
            await Working.UntilIdleAsync(copy, Token);
        }

        Assert.Equal(6, second.Kept.Count);
        await it.ReopenAsync(null);
        await it.Store.StoreAsync(all.AsMemory(6), Token);
        Assert.Throws<Microsoft.Data.Sqlite.SqliteException>(() => it.Rows("copy_outbox"));
        await it.ReopenAsync("second");
        using (InfluxCopy copy = it.Copy(again))
        {
            await Working.UntilIdleAsync(copy, Token);
        }

        Assert.Equal(9, again.Kept.Count);
    }

    [Fact]
    public async Task Any_order_of_storing_sending_refusing_and_starting_anew_ends_with_the_same_copy()
    {
        // s: store a few; w: work; x: the other side goes away; y: it is back; r: start anew; f: it refuses what a third of the readings are; o: it takes all.
        Gen<string> stories = Gen.Char["swxyrfo"].Array[5, 40].Select(story => new string(story));
        await stories.SampleAsync(
            async story =>
            {
                await using CopiedStore it = new(mostRows: 40, mostRefused: 3);
                ScriptedWriter there = new();
                InfluxCopy copy = it.Copy(there);
                int next = 0;
                foreach (char what in story)
                {
                    switch (what)
                    {
                        case 's':
                            await it.Store.StoreAsync(Enumerable.Range(next, 15).Select(i => Some.Reading(i % 50 * 7_200_000L, 30 + i % 3)).ToArray(), Token);
                            next += 15;
                            break;
                        case 'w':
                            await Working.UntilIdleAsync(copy, Token);
                            break;
                        case 'r':
                            copy.Dispose();
                            await it.ReopenAsync(mostRows: 40, mostRefused: 3);
                            copy = it.Copy(there);
                            break;
                        default:
                            there.Answer = what switch { 'x' => _ => new WriteAnswer(500, null, "fault"), 'f' => Refusing("value=31,"), _ => _ => null };
                            break;
                    }
                }

                there.Answer = _ => null;
                copy.Dispose();
                await it.Store.StoreAsync(new[] { Some.Reading(-1) }, Token);
                await it.ReopenAsync();
                using InfluxCopy last = it.Copy(there);
                await Working.UntilIdleAsync(last, Token);

                Assert.Equal(
                    it.Store.Read(Some.Series(), Some.Before, Some.After).Select(r => PointLine.Of(r)).Order(StringComparer.Ordinal),
                    there.Kept.Values.Order(StringComparer.Ordinal));
            },
            iter: 30);
    }

    private static Func<IReadOnlyList<string>, WriteAnswer?> Refusing(string what)
        => lines => lines.Any(line => line.Contains(what, StringComparison.Ordinal)) ? new WriteAnswer(400, null, "field type conflict") : null;
}
