using Incubation.Core.Readings;
using Incubation.Storage.Readings;
using Microsoft.Data.Sqlite;
using Xunit;

namespace Incubation.Storage.Tests.Readings;

public sealed class ReadingsSchemaTests
{
    [Fact]
    public async Task Open_file_of_a_newer_version_is_refused_with_words_and_left_alone()
    {
        await using TemporaryStore it = TemporaryStore.Opened();
        await it.Store.DisposeAsync();
        it.Change("PRAGMA user_version=99");
        byte[] before = await File.ReadAllBytesAsync(it.Path, TestContext.Current.CancellationToken);

        StoreUnavailableException refused = await Assert.ThrowsAsync<StoreUnavailableException>(it.ReopenAsync);

        Assert.Contains("newer version", refused.Message, StringComparison.Ordinal);
        Assert.Equal(before, await File.ReadAllBytesAsync(it.Path, TestContext.Current.CancellationToken));
    }

    [Fact]
    public async Task Open_file_of_another_program_is_refused()
    {
        await using TemporaryStore it = new();
        it.Change("CREATE TABLE recipe (name TEXT)");

        Assert.Contains("another program", Assert.Throws<StoreUnavailableException>(it.Store.Open).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Open_file_that_is_no_database_says_damaged_and_what_to_do()
    {
        await using TemporaryStore it = new();
        await File.WriteAllTextAsync(it.Path, new string('x', 5_000), TestContext.Current.CancellationToken);

        string words = Assert.Throws<StoreUnavailableException>(it.Store.Open).Message;

        Assert.Contains("damaged", words, StringComparison.Ordinal);
        Assert.Contains("backup", words, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Open_folder_that_is_missing_names_the_data_directory()
    {
        await using SqliteReadingStore store = new(new SqliteReadingStoreOptions { Path = "/nonexistent/readings.db" });

        Assert.Contains("data directory", Assert.Throws<StoreUnavailableException>(store.Open).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(Durability.Full, "2")]
    [InlineData(Durability.Off, "0")]
    public async Task OpenForWriting_has_the_write_ahead_log_and_the_asked_for_sync(object durability, string synchronous)
    {
        await using TemporaryStore it = new();
        using SqliteConnection connection = ReadingsSchema.OpenForWriting(
            new SqliteReadingStoreOptions { Path = it.Path, Durability = (Durability)durability });

        Assert.Equal("wal", Ask(connection, "PRAGMA journal_mode"));
        Assert.Equal(synchronous, Ask(connection, "PRAGMA synchronous"));
    }

    [Fact]
    public void Options_by_default_sync_every_commit() =>
        Assert.Equal(Durability.Full, new SqliteReadingStoreOptions { Path = "x" }.Durability);

    private static string? Ask(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        return command.ExecuteScalar()?.ToString();
    }
}
