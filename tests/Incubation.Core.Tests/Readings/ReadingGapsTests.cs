using CsCheck;
using Incubation.Core.Readings;
using Xunit;

namespace Incubation.Core.Tests.Readings;

public sealed class ReadingGapsTests
{
    [Fact]
    public void Find_many_readings_a_bucket_an_empty_bucket_is_a_gap()
        => Assert.Equal([(120_000, 180_000)], Find([0, 60_000, 180_000, 240_000], [6, 6, 6, 6], 60_000, 0, 300_000));

    [Fact]
    public void Find_many_buckets_a_reading_empty_ones_are_no_gap_until_readings_are_missing()
    {
        long[] every10Seconds = [0, 10_000, 20_000, 30_000, 40_000];
        Assert.Empty(Find(every10Seconds, [1, 1, 1, 1, 1], 1_000, 0, 45_000));
        Assert.Empty(Find([.. every10Seconds, 70_000], [1, 1, 1, 1, 1, 1], 1_000, 0, 71_000));
        Assert.Equal([(41_000, 80_000)], Find([.. every10Seconds, 80_000], [1, 1, 1, 1, 1, 1], 1_000, 0, 81_000));
    }

    [Fact]
    public void Find_silence_before_the_first_and_after_the_last_is_a_gap()
        => Assert.Equal([(0, 600_000), (720_000, 900_000)], Find([600_000, 660_000], [6, 6], 60_000, 0, 900_000));

    [Fact]
    public void Find_nothing_at_all_is_no_gap_for_nothing_is_known_of_it()
        => Assert.Empty(Find([], [], 60_000, 0, 900_000));

    [Fact]
    public void Find_a_single_bucket_is_judged_by_its_own_readings()
        => Assert.Equal([(60_000, 900_000)], Find([0], [6], 60_000, 0, 900_000));

    [Fact]
    public void Find_never_covers_a_bucket_with_readings_and_stays_inside_the_time()
        => Gen.Select(Gen.Int[1, 100_000], Gen.Int[0, 2_000].ArrayUnique[1, 60], Gen.Int[1, 50]).Sample((width, places, count) =>
        {
            long[] start = [.. places.Order().Select(place => (long)place * width)];
            int[] counts = [.. start.Select(_ => count)];
            long to = 2_001L * width;

            IReadOnlyList<(long FromMs, long ToMs)> gaps = ReadingGaps.Find(start, counts, width, 0, to);

            Assert.All(gaps, gap =>
            {
                Assert.InRange(gap.FromMs, 0, gap.ToMs - 1);
                Assert.InRange(gap.ToMs, gap.FromMs + 1, to);
                Assert.DoesNotContain(start, s => s + width > gap.FromMs && s < gap.ToMs);
            });
            Assert.Equal(gaps.OrderBy(gap => gap.FromMs), gaps);
        });

    private static IReadOnlyList<(long FromMs, long ToMs)> Find(long[] start, int[] count, long width, long from, long to)
        => ReadingGaps.Find(start, count, width, from, to);
}
