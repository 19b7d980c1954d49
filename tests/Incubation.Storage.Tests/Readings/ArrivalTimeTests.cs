using CsCheck;
using Incubation.Core.Readings;
using Xunit;

namespace Incubation.Storage.Tests.Readings;

/// <summary>Readings without a believed time are never taken for the same one; a probe's own time has precedence.</summary>
public sealed class ArrivalTimeTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(ReadingMarks.ArrivalTime)]
    [InlineData(ReadingMarks.ClockOff)]
    public async Task StoreAsync_two_arrivals_in_one_millisecond_are_both_kept(ReadingMarks marks)
    {
        await using TemporaryStore it = TemporaryStore.Opened();

        await it.Store.StoreAsync(new[] { Some.Reading(5, 31, marks: marks), Some.Reading(5, 31, marks: marks) }, Token);
        await it.Store.StoreAsync(new[] { Some.Reading(5, 32, marks: marks) }, Token);

        Assert.Equal([31d, 31, 32], it.Store.Read(Some.Series(), Some.Before, Some.After).Select(r => r.Value));
        Assert.Equal([Some.At(5), Some.At(6), Some.At(7)], it.Store.Read(Some.Series(), Some.Before, Some.After).Select(r => r.At));
    }

    [Fact]
    public async Task StoreAsync_own_time_takes_its_place_from_an_arrival_which_steps_aside()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        await it.Store.StoreAsync(new[] { Some.Reading(59_999, 40, marks: ReadingMarks.ArrivalTime), Some.Reading(60_000, 41) }, Token);

        await it.Store.StoreAsync(new[] { Some.Reading(59_999, 31) }, Token);
        await it.Store.StoreAsync(new[] { Some.Reading(59_999, 31) }, Token);

        Assert.Equal(
            [(Some.At(59_999), 31d), (Some.At(60_000), 41), (Some.At(60_001), 40)],
            it.Store.Read(Some.Series(), Some.Before, Some.After).Select(r => (r.At, r.Value)));
        Assert.Empty(it.WrongRollups());
    }

    [Fact]
    public async Task StoreAsync_burst_of_arrivals_in_one_millisecond_stays_quick()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        Reading[] burst = [.. Enumerable.Range(0, 2_000).Select(i => Some.Reading(5, i, marks: ReadingMarks.ArrivalTime))];

        // Searched one by one, the last of these would take 40,000 steps, and all of them 800 million.
        await Task.WhenAll(Enumerable.Range(0, 20).Select(_ => it.Store.StoreAsync(burst, Token))).WaitAsync(TimeSpan.FromSeconds(30), Token);

        Assert.Equal([40_000L], it.Ask("SELECT count(*) FROM reading", r => r.GetInt64(0)));
    }

    [Fact]
    public async Task StoreAsync_any_mix_and_order_keeps_each_own_time_once_and_every_arrival()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        int run = 0;
        Gen<(int At, bool Arrival)> one = Gen.Select(Gen.Int[59_990, 60_010], Gen.Bool);

        await Gen.Select(one.List[1, 60], Gen.Int[1, 20]).SampleAsync(
            async (readings, size) =>
            {
                string probe = $"p{Interlocked.Increment(ref run)}";
                foreach ((int At, bool Arrival)[] part in readings.Chunk(size))
                {
                    await it.Store.StoreAsync(
                        part.Select(r => Some.Reading(r.At, r.At, probe, r.Arrival ? ReadingMarks.ArrivalTime : 0)).ToArray(), Token);
                }

                IReadOnlyList<Reading> kept = it.Store.Read(Some.Series(probe), Some.Before, Some.After);
                Assert.Equal(
                    readings.Where(r => !r.Arrival).Select(r => Some.At(r.At)).Distinct().Order(),
                    kept.Where(r => r.Marks == 0).Select(r => r.At));
                Assert.Equal(
                    readings.Where(r => r.Arrival).Select(r => (double)r.At).Order(),
                    kept.Where(r => r.Marks != 0).Select(r => r.Value).Order());
            },
            iter: 150);

        Assert.Empty(it.WrongRollups());
    }
}
