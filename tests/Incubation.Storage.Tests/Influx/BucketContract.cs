using CsCheck;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Storage.Tests.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Storage.Tests.Influx;

/// <summary>What buckets of readings are, whoever keeps the readings: the same suite runs against each.</summary>
public abstract class BucketContract
{
    private static readonly ReadingMarks[] Kinds =
        [ReadingMarks.None, ReadingMarks.None, ReadingMarks.Saturated, ReadingMarks.ArrivalTime, ReadingMarks.Faulty, ReadingMarks.ClockOff, ReadingMarks.Retained];

    private static int s_series;

    private protected static CancellationToken Token => TestContext.Current.CancellationToken;

    private protected abstract Task KeepAsync(IReadOnlyList<Reading> readings);

    private protected abstract Task<ReadingBuckets> BucketsAsync(SeriesKey series, Instant from, Instant to, int buckets, Correction correction);

    [Fact]
    public async Task Buckets_equal_a_count_by_hand_for_any_edges_and_any_calibrations()
    {
        string probe = NewProbe();
        Reading[] all =
        [
            .. Enumerable.Range(0, 4_000).Select(i => Measured(probe, i * 7_013 + i % 11))
                .Where(r => r.At < Some.At(12_000_000) || r.At > Some.At(17_000_000)),
        ];
        await KeepAsync(all);
        Gen<CorrectionPiece> piece = Gen.Select(Gen.Long[-1_000_000, 30_000_000], Gen.Double[0.5, 2], Gen.Double[-5, 5],
            (from, gain, offset) => new CorrectionPiece(Some.At(from), gain, offset));
        Gen<(long From, long Length, int Buckets, Correction Correction)> cases = Gen.Select(
            Gen.Long[-100_000, 28_000_000], Gen.Long[1, 32_000_000], Gen.Int[1, 300],
            piece.Array[0, 4].Select(pieces => new Correction([.. pieces.DistinctBy(p => p.From).OrderBy(p => p.From)])));

        await cases.SampleAsync(
            async c =>
            {
                ReadingBuckets got = await BucketsAsync(all[0].Series, Some.At(c.From), Some.At(c.From + c.Length), c.Buckets, c.Correction);

                long width = (c.Length + c.Buckets - 1) / c.Buckets;
                IGrouping<long, double>[] byHand =
                [
                    .. all.Where(r => r.IsGood && r.At >= Some.At(c.From) && r.At < Some.At(c.From + c.Length))
                        .GroupBy(r => (long)(r.At - Some.At(c.From)).TotalMilliseconds / width, r => c.Correction.Apply(r.At, r.Value)),
                ];
                Assert.Equal(width, got.WidthMs);
                Assert.Equal(byHand.Select(b => Some.At(c.From).ToUnixTimeMilliseconds() + b.Key * width), got.StartMs);
                Assert.Equal(byHand.Select(b => b.Count()), got.Count);
                Assert.Equal(byHand.Select(b => b.Min()), got.Min);
                Assert.Equal(byHand.Select(b => b.Max()), got.Max);
                Assert.All(byHand.Zip(got.Mean), p => Assert.Equal(p.First.Average(), p.Second, 1e-9 * (1 + Math.Abs(p.Second))));
            },
            iter: 60, threads: 1);
    }

    [Fact]
    public async Task Buckets_count_only_good_readings_and_leave_a_gap_where_none_came()
    {
        string probe = NewProbe();
        await KeepAsync(
        [
            Some.Reading(0, 30, probe), Some.Reading(10_000, 32, probe, ReadingMarks.Saturated), Some.Reading(300_000, 85, probe, ReadingMarks.Faulty),
            Some.Reading(310_000, 99, probe, ReadingMarks.Retained), Some.Reading(660_000, 31, probe, ReadingMarks.ArrivalTime),
        ]);

        ReadingBuckets buckets = await BucketsAsync(Some.Series(probe), Some.At(0), Some.At(1_200_000), 4, Correction.None);

        Assert.Equal([Ms(0), Ms(600_000)], buckets.StartMs);
        Assert.Equal([31d, 31], buckets.Mean);
        Assert.Equal([30d, 31], buckets.Min);
        Assert.Equal([32d, 31], buckets.Max);
        Assert.Equal([2, 1], buckets.Count);
    }

    [Fact]
    public async Task Buckets_take_the_start_in_and_leave_the_end_out()
    {
        string probe = NewProbe();
        await KeepAsync([Some.Reading(999, 1, probe), Some.Reading(1_000, 2, probe), Some.Reading(1_999, 3, probe), Some.Reading(2_000, 4, probe)]);

        ReadingBuckets buckets = await BucketsAsync(Some.Series(probe), Some.At(1_000), Some.At(2_000), 1, Correction.None);

        Assert.Equal([2d], buckets.Min);
        Assert.Equal([3d], buckets.Max);
    }

    [Fact]
    public async Task A_bucket_that_a_calibration_cuts_is_corrected_on_each_side_of_it()
    {
        string probe = NewProbe();
        await KeepAsync([Some.Reading(0, 30, probe), Some.Reading(10_000, 30, probe), Some.Reading(20_000, 30, probe), Some.Reading(30_000, 30, probe)]);
        Correction correction = new([new(Some.At(10_000), 1, 0.5), new(Some.At(30_000), 2, -20)]);

        ReadingBuckets buckets = await BucketsAsync(Some.Series(probe), Some.At(0), Some.At(40_000), 1, correction);

        Assert.Equal([30d], buckets.Min);
        Assert.Equal([40d], buckets.Max);
        Assert.Equal([(30 + 30.5 + 30.5 + 40) / 4], buckets.Mean);
        Assert.Equal([4], buckets.Count);
    }

    [Fact]
    public async Task The_same_reading_again_changes_nothing()
    {
        string probe = NewProbe();
        Reading[] readings = [Some.Reading(0, 30, probe), Some.Reading(1_000, 31, probe)];
        await KeepAsync(readings);
        await KeepAsync(readings);

        Assert.Equal([2], (await BucketsAsync(Some.Series(probe), Some.At(0), Some.At(10_000), 1, Correction.None)).Count);
    }

    [Theory]
    [InlineData("shelf 2, left")]
    [InlineData("a=b")]
    [InlineData("it's \"the\" one")]
    [InlineData("Brutkasten-Süd-温度")]
    [InlineData("x' OR 'a' = 'a")]
    public async Task A_probe_may_be_called_anything(string name)
    {
        string probe = $"{name} {NewProbe()}";
        await KeepAsync([Some.Reading(0, 30, probe), Some.Reading(0, 50, NewProbe())]);

        ReadingBuckets buckets = await BucketsAsync(Some.Series(probe), Some.At(0), Some.At(1_000), 10, Correction.None);

        Assert.Equal([30d], buckets.Max);
    }

    [Fact]
    public async Task A_series_that_nobody_knows_has_no_buckets()
    {
        ReadingBuckets buckets = await BucketsAsync(new SeriesKey("nobody", new Quantity("noise")), Some.At(0), Some.At(100), 7, Correction.None);

        Assert.Empty(buckets.StartMs);
        Assert.Equal(15, buckets.WidthMs);
    }

    [Fact]
    public async Task Values_of_any_size_come_back_as_they_were()
    {
        double[] values = [0.1 + 0.2, -127.0625, 1e-9, 1.7976931348623157e300, 5, 100_000_000_000_000_000];
        string probe = NewProbe();
        await KeepAsync([.. values.Select((value, i) => Some.Reading(i * 1_000, value, probe))]);

        ReadingBuckets buckets = await BucketsAsync(Some.Series(probe), Some.At(0), Some.At(values.Length * 1_000), values.Length, Correction.None);

        Assert.Equal(values, buckets.Min);
        Assert.Equal(values, buckets.Mean);
    }

    [Fact]
    public async Task A_range_that_is_none_and_buckets_beyond_the_bound_are_mistakes_of_the_caller()
    {
        await Assert.ThrowsAnyAsync<ArgumentException>(() => BucketsAsync(Some.Series(), Some.At(10), Some.At(10), 1, Correction.None));
        await Assert.ThrowsAnyAsync<ArgumentException>(() => BucketsAsync(Some.Series(), Some.At(0), Some.At(10), 0, Correction.None));
        await Assert.ThrowsAnyAsync<ArgumentException>(() => BucketsAsync(Some.Series(), Some.At(0), Some.At(10), Limits.HistoryBuckets + 1, Correction.None));
    }

    private protected static string NewProbe() => $"p{Interlocked.Increment(ref s_series)}";

    private static long Ms(long ms) => Some.At(ms).ToUnixTimeMilliseconds();

    private static Reading Measured(string probe, int at) => Some.Reading(at, 28 + at % 977 * 0.0078125, probe, Kinds[at % Kinds.Length]);
}
