using Incubation.Core.Readings;
using Xunit;

namespace Incubation.Storage.Tests.Readings;

public sealed class SqliteReadingStoreTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task StoreAsync_keeps_every_part_of_a_reading()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        Reading[] sent =
        [
            Some.Reading(0), Some.Reading(1_001, -0.0625, marks: ReadingMarks.ClockOff),
            Some.Reading(2_002, 102, marks: ReadingMarks.Saturated), Some.Reading(3_003, -127, marks: ReadingMarks.Faulty),
        ];

        await it.Store.StoreAsync(sent, Token);

        Assert.Equal(sent, it.Store.Read(Some.Series(), Some.Before, Some.After));
    }

    [Fact]
    public async Task StoreAsync_same_series_and_time_again_changes_nothing()
    {
        await using TemporaryStore it = TemporaryStore.Opened();

        await it.Store.StoreAsync(new[] { Some.Reading(0, 31), Some.Reading(0, 31) }, Token);
        await it.Store.StoreAsync(new[] { Some.Reading(0, 99) }, Token);

        Assert.Equal(31, Assert.Single(it.Store.Read(Some.Series(), Some.Before, Some.After)).Value);
        Assert.Equal([1], it.Store.Buckets(Some.Series(), Some.At(0), Some.At(3_600_000), 1, Correction.None).Count);
    }

    [Fact]
    public async Task Read_takes_the_start_in_and_leaves_the_end_out()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        await it.Store.StoreAsync(new[] { Some.Reading(1_000), Some.Reading(2_000), Some.Reading(3_000) }, Token);

        Assert.Equal([Some.At(1_000), Some.At(2_000)], it.Store.Read(Some.Series(), Some.At(1_000), Some.At(3_000)).Select(r => r.At));
        Assert.Empty(it.Store.Read(Some.Series("nobody"), Some.Before, Some.After));
    }

    [Fact]
    public async Task Latest_gives_the_newest_of_every_series_whatever_came_last()
    {
        await using TemporaryStore it = TemporaryStore.Opened();

        await it.Store.StoreAsync(new[] { Some.Reading(9_000, 32), Some.Reading(1_000), Some.Reading(5_000, probe: "moss-floor") }, Token);

        Assert.Equal(
            [Some.Reading(9_000, 32), Some.Reading(5_000, probe: "moss-floor")],
            it.Store.Latest().OrderBy(r => r.Series.Probe, StringComparer.Ordinal));
    }

    [Fact]
    public async Task Reopening_finds_everything_and_goes_on_with_the_same_series()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        await it.Store.StoreAsync(new[] { Some.Reading(0) }, Token);

        await it.ReopenAsync();
        await it.Store.StoreAsync(new[] { Some.Reading(0), Some.Reading(10_000) }, Token);

        Assert.Equal(2, it.Store.Read(Some.Series(), Some.Before, Some.After).Count);
        Assert.Empty(it.WrongRollups());
        Assert.Equal([1L], it.Ask("SELECT count(*) FROM series", r => r.GetInt64(0)));
    }

    [Fact]
    public async Task DisposeAsync_stores_what_was_handed_over_and_leaves_one_file()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        Task[] waiting = [.. Enumerable.Range(0, 5_000).Select(i => it.Store.StoreAsync(new[] { Some.Reading(i * 10) }, Token))];

        await it.Store.DisposeAsync();
        await Task.WhenAll(waiting);

        Assert.False(File.Exists(it.Path + "-wal"));
        Assert.Equal([5_000L], it.Ask("SELECT count(*) FROM reading", r => r.GetInt64(0)));
    }

    [Fact]
    public async Task Calls_before_opening_and_after_closing_fail_with_words()
    {
        await using TemporaryStore it = new();
        StoreUnavailableException before = await Assert.ThrowsAsync<StoreUnavailableException>(() => it.Store.StoreAsync(new[] { Some.Reading() }, Token));
        Assert.Throws<StoreUnavailableException>(it.Store.Latest);

        it.Store.Open();
        await it.Store.DisposeAsync();

        await Assert.ThrowsAsync<StoreUnavailableException>(() => it.Store.StoreAsync(new[] { Some.Reading() }, Token));
        Assert.Throws<StoreUnavailableException>(it.Store.Latest);
        Assert.Contains("closed", before.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public async Task StoreAsync_no_number_is_a_mistake_of_the_caller_and_harms_nobody_else(double value)
    {
        await using TemporaryStore it = TemporaryStore.Opened();

        await Assert.ThrowsAsync<ArgumentException>(() => it.Store.StoreAsync(new[] { Some.Reading(0, value) }, Token));
        await it.Store.StoreAsync(new[] { Some.Reading(1) }, Token);

        Assert.Single(it.Store.Latest());
    }

    [Fact]
    public async Task ImportAsync_stores_a_long_history()
    {
        await using TemporaryStore it = TemporaryStore.Opened();

        await it.Store.ImportAsync(Enumerable.Range(0, 30_000).Select(i => Some.Reading(i * 300_000L, 30 + i % 5)), Token);

        Assert.Equal([30_000L], it.Ask("SELECT count(*) FROM reading", r => r.GetInt64(0)));
        Assert.Empty(it.WrongRollups());
    }
}
