using Incubation.Core.Readings;
using Incubation.Storage.Readings.Keeping;
using Microsoft.Data.Sqlite;
using NodaTime;
using Xunit;

namespace Incubation.Storage.Tests.Readings;

public sealed class KeepingTests
{
    private const long Day = 86_400_000;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task DropAsync_deletes_old_days_of_the_named_quantity_and_none_that_must_stay()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        Reading[] all = [.. Enumerable.Range(0, 240).Select(i => Some.Reading(i * Day / 24, 30 + i % 7))];
        Reading[] other = [.. all.Select(r => r with { Series = new SeriesKey("hazel-air", Quantity.Humidity) })];
        await it.Store.ImportAsync([.. all, .. other], Token);
        await it.Store.SealAsync(Some.At(4 * Day), Token);
        Instant kept = Some.At(1 * Day + Day / 2);

        // Six days: five sealed or raw ones are over, of which the kept one stays.
        int dropped = await it.Store.DropAsync(
            Some.At(10 * Day), new Dictionary<string, int> { ["temperature"] = 4 }, new KeptDay(kept), Token);

        Instant before = Some.At(6 * Day) - Duration.FromHours(12);
        Reading[] left = [.. all.Where(r => r.At >= before || (r.At >= kept && r.At < kept + Duration.FromDays(1)))];
        Assert.Equal(5, dropped);
        Assert.Equal(left, it.Store.Read(Some.Series(), Some.Before, Some.After));
        Assert.Equal(other, it.Store.Read(other[0].Series, Some.Before, Some.After));
        Assert.Equal(left.Length, it.Store.Buckets(Some.Series(), Some.Before, Some.After, 3, Correction.None).Count.Sum());
    }

    [Fact]
    public async Task Gone_says_what_was_given_up_and_no_more_also_after_a_start()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        await it.Store.ImportAsync(Enumerable.Range(0, 240).Select(i => Some.Reading(i * Day / 24)), Token);
        await it.Store.SealAsync(Some.At(4 * Day), Token);
        Assert.Empty(it.Store.Gone(Some.Series(), Some.Before, Some.After));

        await it.Store.DropAsync(Some.At(8 * Day), new Dictionary<string, int> { ["temperature"] = 4 }, new KeptDay(Some.At(1 * Day)), Token);
        await it.Store.DropAsync(Some.At(10 * Day), new Dictionary<string, int> { ["temperature"] = 4 }, new KeptDay(Some.At(1 * Day)), Token);
        await it.ReopenAsync();

        // The first of June to the sixth, but for the second, which is kept.
        Instant first = Some.At(-Day / 2);
        Interval[] gone = [new(first, first + Duration.FromDays(1)), new(first + Duration.FromDays(2), first + Duration.FromDays(6))];
        Assert.Equal(gone, it.Store.Gone(Some.Series(), Some.Before, Some.After));
        Instant within = first + Duration.FromHours(60);
        Assert.Equal([new Interval(within, within + Duration.FromHours(1))], it.Store.Gone(Some.Series(), within, within + Duration.FromHours(1)));
        Assert.Empty(it.Store.Gone(Some.Series(), gone[0].End, gone[1].Start));
        Assert.Empty(it.Store.Gone(Some.Series("never-stored"), Some.Before, Some.After));
    }

    [Fact]
    public async Task CheckAsync_whole_file_is_well_and_the_outcome_is_remembered()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        await it.Store.ImportAsync(Enumerable.Range(0, 3_000).Select(i => Some.Reading(i * 60_000L)), Token);
        await it.Store.SealAsync(Some.At(2 * Day), Token);
        Assert.Null(it.Store.Facts().LastCheck);

        StoreCheck check = await it.Store.CheckAsync(() => Some.At(3 * Day), Token);
        await it.ReopenAsync();

        Assert.True(check.Ok, check.Words);
        KeepingFacts facts = it.Store.Facts();
        Assert.Equal(check, facts.LastCheck);
        Assert.Equal((2, 1), (facts.SealedDays, facts.RawDays));
        Assert.True(facts.Bytes > 0);
        Assert.Equal(Some.At(0).InUtc().Date, facts.Oldest!.Value.InUtc().Date);
    }

    [Fact]
    public async Task CheckAsync_flipped_bit_in_a_sealed_day_is_found_and_that_day_refused_with_words()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        await it.Store.ImportAsync(Enumerable.Range(0, 3_000).Select(i => Some.Reading(i * 60_000L)), Token);
        await it.Store.SealAsync(Some.At(2 * Day), Token);
        it.Change("UPDATE sealed SET readings = CAST(x'00' || substr(readings, 2) AS BLOB) WHERE day = (SELECT min(day) FROM sealed)");

        StoreCheck check = await it.Store.CheckAsync(() => Some.At(3 * Day), Token);

        Assert.False(check.Ok);
        Assert.Contains("hazel-air/temperature on 2026-06-01", check.Words, StringComparison.Ordinal);
        StoreUnavailableException refused = Assert.Throws<StoreUnavailableException>(() => it.Store.Read(Some.Series(), Some.Before, Some.After));
        Assert.Contains("restore a backup", refused.Message, StringComparison.Ordinal);
        Assert.NotEmpty(it.Store.Read(Some.Series(), Some.At(Day), Some.After));
    }

    [Fact]
    public async Task Open_file_of_the_first_schema_brings_it_up_to_date_with_every_reading_in_it()
    {
        await using TemporaryStore it = new();
        await using (SqliteConnection old = new($"Data Source={it.Path};Pooling=False"))
        {
            await old.OpenAsync(Token);
            await using SqliteCommand script = old.CreateCommand();
            script.CommandText = await File.ReadAllTextAsync(Path.Combine(AppContext.BaseDirectory, "Fixtures", "readings-1.sql"), Token);
            await script.ExecuteNonQueryAsync(Token);
        }

        List<(long, double)> before = it.Ask("SELECT at, value FROM reading ORDER BY series, at", r => (r.GetInt64(0), r.GetDouble(1)));
        long good = it.Ask("SELECT sum(count) FROM minute WHERE series = 1", r => r.GetInt64(0))[0];

        it.Store.Open();

        Assert.Equal(before, it.Ask("SELECT at, value FROM reading ORDER BY series, at", r => (r.GetInt64(0), r.GetDouble(1))));
        Assert.Equal([2L], it.Ask("PRAGMA user_version", r => r.GetInt64(0)));
        Assert.Equal([2_048L], it.Ask("PRAGMA page_size", r => r.GetInt64(0)));
        Assert.Equal(good, it.Store.Buckets(Some.Series(), Some.Before, Some.After, 5, Correction.None).Count.Sum());
        Assert.True(await it.Store.SealAsync(Some.After, Token) > 3);
        Assert.Equal(good, it.Store.Buckets(Some.Series(), Some.Before, Some.After, 50, Correction.None).Count.Sum());
        Assert.Equal(before.Count, it.Ask("SELECT sum(count) FROM sealed", r => r.GetInt32(0))[0]);
        Assert.Equal(3, it.Store.Latest().Count);
    }

    private sealed class KeptDay(Instant kept) : IKeptDays
    {
        public bool MustKeep(SeriesKey series, Instant from, Instant to) => kept >= from && kept < to;
    }
}
