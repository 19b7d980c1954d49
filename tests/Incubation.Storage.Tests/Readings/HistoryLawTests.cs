using CsCheck;
using Incubation.Core.Readings;
using Xunit;

namespace Incubation.Storage.Tests.Readings;

/// <summary>What was sent decides the history; order, repetition and batching don't.</summary>
public sealed class HistoryLawTests
{
    private static readonly ReadingMarks[] Kinds = [ReadingMarks.None, ReadingMarks.None, ReadingMarks.Saturated, ReadingMarks.Faulty, ReadingMarks.Retained];

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task StoreAsync_any_order_repetition_and_batching_gives_the_same_history_and_exact_minutes()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        int run = 0;
        Gen<(int[] Times, int[] Sent, int Size)> cases =
            from times in Gen.Int[0, 400_000].ArrayUnique[1, 40]
            from repeats in Gen.Int[0, times.Length - 1].Array[0, 40]
            from sent in Gen.Shuffle(times.Concat(repeats.Select(i => times[i])).ToArray())
            from size in Gen.Int[1, 30]
            select (times, sent, size);

        await cases.SampleAsync(
            async c =>
            {
                string probe = $"p{Interlocked.Increment(ref run)}";
                await Task.WhenAll(c.Sent.Chunk(c.Size).Select(part => it.Store.StoreAsync(part.Select(at => Measured(probe, at)).ToArray(), Token)));

                Reading[] expected = [.. c.Times.Order().Select(at => Measured(probe, at))];
                Assert.Equal(expected, it.Store.Read(Some.Series(probe), Some.Before, Some.After));
                Assert.Equal(expected[^1], it.Store.Latest().Single(r => r.Series.Probe == probe));
            },
            iter: 200);

        Assert.Empty(it.WrongRollups());
    }

    [Fact]
    public async Task Buckets_from_minutes_and_raw_rows_equal_a_count_by_hand_for_any_edges()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        Reading[] all = [.. Enumerable.Range(0, 6_000).Select(i => Measured("p", i * 7_013 + i % 11)).Where(r => r.At < Some.At(20_000_000) || r.At > Some.At(26_000_000))];
        await it.Store.ImportAsync(all, Token);
        Gen<(long From, long Length, int Buckets)> cases = Gen.Select(Gen.Long[-100_000, 40_000_000], Gen.Long[1, 45_000_000], Gen.Int[1, 300]);

        cases.Sample(
            c =>
            {
                ReadingBuckets got = it.Store.Buckets(Some.Series("p"), Some.At(c.From), Some.At(c.From + c.Length), c.Buckets, Correction.None);

                long width = (c.Length + c.Buckets - 1) / c.Buckets;
                IGrouping<long, double>[] byHand =
                [
                    .. all.Where(r => r.IsGood && r.At >= Some.At(c.From) && r.At < Some.At(c.From + c.Length))
                        .GroupBy(r => (r.At - Some.At(c.From)).ToInt64Nanoseconds() / 1_000_000 / width, r => r.Value),
                ];
                Assert.Equal(width, got.WidthMs);
                Assert.Equal(byHand.Select(b => Some.At(c.From).ToUnixTimeMilliseconds() + b.Key * width), got.StartMs);
                Assert.Equal(byHand.Select(b => b.Min()), got.Min);
                Assert.Equal(byHand.Select(b => b.Max()), got.Max);
                Assert.Equal(byHand.Select(b => b.Count()), got.Count);
                Assert.All(byHand.Zip(got.Mean), p => Assert.Equal(p.First.Average(), p.Second, 1e-9));
            },
            iter: 400);
    }

    [Fact]
    public async Task Buckets_leave_a_gap_where_nothing_good_came()
    {
        await using TemporaryStore it = TemporaryStore.Opened();

        await it.Store.StoreAsync(
            new[] { Some.Reading(0, 30), Some.Reading(10_000, 32), Some.Reading(300_000, 85, marks: ReadingMarks.Faulty), Some.Reading(660_000, 31) }, Token);

        ReadingBuckets buckets = it.Store.Buckets(Some.Series(), Some.At(0), Some.At(1_200_000), 4, Correction.None);
        Assert.Equal([Some.At(0).ToUnixTimeMilliseconds(), Some.At(600_000).ToUnixTimeMilliseconds()], buckets.StartMs);
        Assert.Equal([31d, 31], buckets.Mean);
        Assert.Equal([30d, 31], buckets.Min);
        Assert.Equal([32d, 31], buckets.Max);
    }

    // Value and marks follow from the time, so that equal times are equal readings.
    private static Reading Measured(string probe, int at) => Some.Reading(at, 28 + at % 977 * 0.0078125, probe, Kinds[at % Kinds.Length]);
}
