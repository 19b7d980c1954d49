using CsCheck;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Storage.Tests.Readings;

/// <summary>A sealed day reads as it did before, takes late readings in, and survives whatever happens to its seal.</summary>
public sealed class SealingTests
{
    private const long Hour = 3_600_000, Day = 24 * Hour;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task SealAsync_leaves_what_is_read_as_it_was_and_the_rows_of_the_day_gone()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        Reading[] all = [.. ThreeDays()];
        await it.Store.ImportAsync(all, Token);
        ReadingBuckets before = it.Store.Buckets(Some.Series(), Some.At(-7), Some.At(3 * Day), 500, Correction.None);

        Assert.Equal(2, await it.Store.SealAsync(Some.At(2 * Day), Token));

        Assert.Equal(all, it.Store.Read(Some.Series(), Some.Before, Some.After));
        Assert.Equal(all[^1], Assert.Single(it.Store.Latest()));
        ReadingBuckets after = it.Store.Buckets(Some.Series(), Some.At(-7), Some.At(3 * Day), 500, Correction.None);
        Assert.Equal(before.StartMs, after.StartMs);
        Assert.Equal(before.Count, after.Count);
        Assert.Equal(before.Min, after.Min);
        Assert.Equal(before.Max, after.Max);
        Assert.All(before.Mean.Zip(after.Mean), m => Assert.Equal(m.First, m.Second, 1e-9));
        Assert.Equal([2L], it.Ask("SELECT count(*) FROM sealed", r => r.GetInt64(0)));
        Assert.Equal([0L], it.Ask($"SELECT count(*) FROM reading WHERE at < (SELECT max(day) + {Day} FROM sealed)", r => r.GetInt64(0)));
        Assert.Equal(0, await it.Store.SealAsync(Some.At(2 * Day), Token));
    }

    [Fact]
    public async Task StoreAsync_what_a_sealed_day_has_already_leaves_it_sealed_and_something_new_opens_it()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        Reading[] all = [.. ThreeDays()];
        await it.Store.ImportAsync(all, Token);
        await it.Store.SealAsync(Some.At(2 * Day), Token);

        await it.Store.StoreAsync(new[] { all[10] }, Token);
        Assert.Equal([2L], it.Ask("SELECT count(*) FROM sealed", r => r.GetInt64(0)));

        Reading late = all[10] with { At = all[10].At + Duration.FromMilliseconds(1), Value = 12.5 };
        await it.Store.StoreAsync(new[] { late }, Token);
        Assert.Equal([1L], it.Ask("SELECT count(*) FROM sealed", r => r.GetInt64(0)));
        Assert.Equal(all.Append(late).OrderBy(r => r.At), it.Store.Read(Some.Series(), Some.Before, Some.After));

        Assert.Equal(1, await it.Store.SealAsync(Some.At(2 * Day), Token));
        Assert.Equal(all.Append(late).OrderBy(r => r.At), it.Store.Read(Some.Series(), Some.Before, Some.After));
    }

    [Fact]
    public async Task Any_order_repetition_sealing_correction_and_crash_give_what_a_recount_gives()
    {
        int run = 0;
        Gen<(int[] Order, int Size, int[] SealAfter, int CrashAfter, long From, int Buckets, long Width, bool Corrected)> cases =
            from times in Gen.Int[0, 500].ArrayUnique[5, 120]
            from again in Gen.Int[0, times.Length - 1].Array[0, 20]
            from order in Gen.Shuffle(times.Concat(again.Select(i => times[i])).ToArray())
            from size in Gen.Int[5, 40]
            from seal in Gen.Int[0, 10].Array[0, 4]
            from crash in Gen.Int[0, 10]
            from start in Gen.Long[-Day, 3 * Day]
            from buckets in Gen.Int[1, 40]
            from width in Gen.OneOf(Gen.Long[1, 5 * 60_000], Gen.Long[1, 9 * Hour], Gen.Long[Day, 6 * Day])
            from corrected in Gen.Bool
            select (order, size, seal, crash, start, buckets, width, corrected);
        await using TemporaryStore first = TemporaryStore.Opened();
        TemporaryStore it = first;
        List<DirectoryInfo> crashed = [];

        await cases.SampleAsync(
            async c =>
            {
                string probe = $"p{++run}";
                int part = 0;
                foreach (int[] sent in c.Order.Chunk(c.Size))
                {
                    await it.Store.StoreAsync(sent.Select(n => Measured(probe, n)).ToArray(), Token);
                    if (c.SealAfter.Contains(part))
                    {
                        await it.Store.SealAsync(Some.At((part % 4 + 1) * Day), Token);
                    }

                    if (c.CrashAfter == part++ && run % 10 == 0)
                    {
                        it = Crash(it, crashed);
                    }
                }

                Reading[] expected = [.. c.Order.Distinct().Select(n => Measured(probe, n)).OrderBy(r => r.At)];
                Assert.Equal(expected, it.Store.Read(Some.Series(probe), Some.Before, Some.After));
                Compare(it, probe, expected, Some.At(c.From), c.Buckets, c.Width, c.Corrected);
            },
            iter: 150, threads: 1);

        await it.DisposeAsync();
        foreach (DirectoryInfo folder in crashed)
        {
            folder.Delete(recursive: true);
        }
    }

    [Fact]
    public async Task SealAsync_while_readings_come_loses_none_of_them()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        Reading[] all = [.. ThreeDays()];
        Task storing = Task.Run(
            async () =>
            {
                foreach (Reading[] part in all.Chunk(97))
                {
                    await it.Store.StoreAsync(part, Token);
                }
            },
            Token);

        while (!storing.IsCompleted)
        {
            await it.Store.SealAsync(Some.At(5 * Day), Token);
        }

        await storing;
        Assert.Equal(all, it.Store.Read(Some.Series(), Some.Before, Some.After));
        await it.Store.SealAsync(Some.At(5 * Day), Token);
        Assert.Equal(all, it.Store.Read(Some.Series(), Some.Before, Some.After));
        Assert.Equal([0L], it.Ask("SELECT count(*) FROM reading", r => r.GetInt64(0)));
    }

    private static void Compare(TemporaryStore it, string probe, Reading[] all, Instant from, int buckets, long width, bool corrected)
    {
        Correction correction = corrected
            ? new Correction([new(Some.At(5 * Hour + 1_234), 1.01, -0.3), new(Some.At(Day + 7 * Hour), 0.98, 0.4)])
            : Correction.None;
        Instant to = from + Duration.FromMilliseconds(buckets * width);
        ReadingBuckets got = it.Store.Buckets(Some.Series(probe), from, to, buckets, correction);

        var byHand = all.Where(r => r.IsGood && r.At >= from && r.At < to)
            .GroupBy(r => (long)((r.At - from).TotalMilliseconds / width), r => correction.Apply(r.At, r.Value)).ToArray();
        Assert.Equal(byHand.Select(b => from.ToUnixTimeMilliseconds() + b.Key * width), got.StartMs);
        Assert.Equal(byHand.Select(b => b.Count()), got.Count);
        Assert.Equal(byHand.Select(b => b.Min()), got.Min);
        Assert.Equal(byHand.Select(b => b.Max()), got.Max);
        Assert.All(byHand.Zip(got.Mean), b => Assert.Equal(b.First.Average(), b.Second, 1e-9));
    }

    // The files as they are at this moment, opened elsewhere: what a power cut leaves.
    private static TemporaryStore Crash(TemporaryStore it, List<DirectoryInfo> crashed)
    {
        DirectoryInfo folder = Directory.CreateTempSubdirectory("incubation-crashed-");
        crashed.Add(folder);
        File.Copy(it.Path, Path.Combine(folder.FullName, "readings.db"));
        if (File.Exists(it.Path + "-wal"))
        {
            File.Copy(it.Path + "-wal", Path.Combine(folder.FullName, "readings.db-wal"));
        }

        TemporaryStore again = new(folder);
        again.Store.Open();
        return again;
    }

    // Over four days, some minutes thick and some hours empty; value and marks follow from the number.
    private static Reading Measured(string probe, int n) => Some.Reading(
        n % 4 * Day + n / 20 * 11 * 60_000L + n % 20 * 3_017L, 28 + n % 97 * 0.0625, probe,
        n % 13 == 0 ? ReadingMarks.Faulty : n % 17 == 0 ? ReadingMarks.Saturated : ReadingMarks.None);

    private static IEnumerable<Reading> ThreeDays() => Enumerable.Range(0, 3 * 1_440)
        .Select(i => Some.Reading(i * 60_000L + i % 7, Math.Round(31 + Math.Sin(i / 50d), 2), marks: i % 301 == 0 ? ReadingMarks.Faulty : 0));
}
