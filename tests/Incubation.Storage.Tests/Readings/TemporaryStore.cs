using Incubation.Storage.Readings;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Incubation.Storage.Tests.Readings;

/// <summary>A readings store in a folder of its own that goes with it.</summary>
internal sealed class TemporaryStore : IAsyncDisposable
{
    public static readonly Instant Start = Instant.FromUtc(2026, 6, 1, 12, 0);

    private readonly DirectoryInfo _folder;
    private readonly bool _ownsFolder;

    public TemporaryStore(DirectoryInfo? folder = null)
    {
        _ownsFolder = folder is null;
        _folder = folder ?? Directory.CreateTempSubdirectory("incubation-readings-");
        Path = System.IO.Path.Combine(_folder.FullName, "readings.db");
        Store = new SqliteReadingStore(new SqliteReadingStoreOptions { Path = Path, CommitAtOnce = true });
    }

    public string Path { get; }
    public SqliteReadingStore Store { get; private set; }

    public static TemporaryStore Opened()
    {
        TemporaryStore store = new();
        store.Store.Open();
        return store;
    }

    /// <summary>Stops the store and opens its file again.</summary>
    public async Task ReopenAsync()
    {
        await Store.DisposeAsync();
        Store = new SqliteReadingStore(new SqliteReadingStoreOptions { Path = Path, CommitAtOnce = true });
        Store.Open();
    }

    public List<T> Ask<T>(string sql, Func<SqliteDataReader, T> row)
    {
        using SqliteConnection connection = new($"Data Source={Path};Pooling=False");
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        using SqliteDataReader rows = command.ExecuteReader();
        List<T> answers = [];
        while (rows.Read())
        {
            answers.Add(row(rows));
        }

        return answers;
    }

    public void Change(string sql) => Ask(sql, _ => 0);

    /// <summary>Rows of minute, hour and day that differ from a recount of the raw rows before <c>rolled</c>; sums by rounding only.</summary>
    public List<string> WrongRollups() => [.. WrongRows("minute", 60_000), .. WrongRows("hour", 3_600_000), .. WrongRows("day", 86_400_000)];

    private List<string> WrongRows(string table, long span) => Ask($"""
        SELECT '{table} ' || series || '/' || start FROM (
            SELECT series, start, count, sum, least, greatest FROM {table}
            UNION ALL
            SELECT r.series, r.at - r.at % {span}, -count(*), -sum(r.value), min(r.value), max(r.value) FROM reading r JOIN series s ON s.id = r.series
            WHERE r.marks & 18 = 0 AND r.at < s.rolled GROUP BY 1, 2)
        GROUP BY series, start
        HAVING count(*) <> 2 OR sum(count) <> 0 OR min(least) <> max(least) OR min(greatest) <> max(greatest)
            OR abs(sum(sum)) > 1e-9 * (1 + max(abs(sum)))
        """, r => r.GetString(0));

    public async ValueTask DisposeAsync()
    {
        await Store.DisposeAsync();
        if (_ownsFolder)
        {
            _folder.Delete(recursive: true);
        }
    }
}
