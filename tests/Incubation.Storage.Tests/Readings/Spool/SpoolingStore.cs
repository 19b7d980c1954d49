using Incubation.Core.Readings;
using Incubation.Storage.Readings;
using Incubation.Storage.Readings.Spool;
using Microsoft.Data.Sqlite;
using Xunit;

namespace Incubation.Storage.Tests.Readings.Spool;

/// <summary>A readings store with a spool file, impatient with whoever holds its database.</summary>
internal sealed class SpoolingStore : IAsyncDisposable
{
    private readonly DirectoryInfo _folder;
    private readonly bool _ownsFolder;
    private readonly long _spoolBytes;
    private readonly DiskReserve? _reserve;
    private TemporaryStore _files;

    public SpoolingStore(DirectoryInfo? folder = null, long spoolBytes = 1024 * 1024, DiskReserve? reserve = null)
    {
        _ownsFolder = folder is null;
        _folder = folder ?? Directory.CreateTempSubdirectory("incubation-spooling-");
        (_spoolBytes, _reserve) = (spoolBytes, reserve);
        _files = new TemporaryStore(_folder);
        Open();
    }

    public SqliteReadingStore Store { get; private set; } = null!;

    public StoreState State => Store.State;

    public string SpoolPath => Path.Combine(_folder.FullName, "readings.spool");

    public void Open()
    {
        Store = new SqliteReadingStore(new SqliteReadingStoreOptions
        {
            Path = Path.Combine(_folder.FullName, "readings.db"),
            CommitAtOnce = true,
            LockPatience = TimeSpan.FromMilliseconds(5),
            Spool = new SpoolOptions { Path = SpoolPath, Bytes = _spoolBytes, Reserve = _reserve, LongestRetry = TimeSpan.FromMilliseconds(20) },
        });
        Store.Open();
    }

    public Task StoreAsync(params Reading[] readings)
        => Store.StoreAsync(readings, TestContext.Current.CancellationToken).WaitAsync(TimeSpan.FromSeconds(60), TestContext.Current.CancellationToken);

    public IReadOnlyList<Reading> Read(string probe = "hazel-air") => Store.Read(Some.Series(probe), Some.Before, Some.After);

    /// <summary>Holds the database as another program would, until disposed.</summary>
    public IDisposable Hold() => new Held(Path.Combine(_folder.FullName, "readings.db"));

    public Task WellAsync() => UntilAsync(() => State.Kind == StoreKind.Well);

    /// <summary>Waits for a condition of another thread; a minute is more than any machine needs.</summary>
    public static async Task UntilAsync(Func<bool> holds)
    {
        using CancellationTokenSource end = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        end.CancelAfter(TimeSpan.FromMinutes(1));
        using PeriodicTimer timer = new(TimeSpan.FromMilliseconds(5));
        while (!holds())
        {
            await timer.WaitForNextTickAsync(end.Token);
        }
    }

    /// <summary>The files as a crash at this moment leaves them.</summary>
    public DirectoryInfo Copy()
    {
        DirectoryInfo copy = Directory.CreateTempSubdirectory("incubation-crashed-");
        // A reader keeps the write-ahead log from being begun anew between the copies of the two files that belong together.
        using SqliteConnection reader = new($"Data Source={Path.Combine(_folder.FullName, "readings.db")};Pooling=False");
        reader.Open();
        using SqliteTransaction snapshot = reader.BeginTransaction(deferred: true);
        using SqliteCommand look = reader.CreateCommand();
        look.CommandText = "SELECT count(*) FROM series";
        look.ExecuteScalar();
        // The spool first: until the database is copied, readings may move into it, never out of it.
        foreach (string name in (string[])["readings.spool", "readings.db", "readings.db-wal"])
        {
            File.Copy(Path.Combine(_folder.FullName, name), Path.Combine(copy.FullName, name));
        }

        return copy;
    }

    public List<string> WrongRollups() => _files.WrongRollups();

    public void Change(string sql) => _files.Change(sql);

    public async ValueTask DisposeAsync()
    {
        await Store.DisposeAsync();
        await _files.DisposeAsync();
        if (_ownsFolder)
        {
            _folder.Delete(recursive: true);
        }
    }

    private sealed class Held : IDisposable
    {
        private readonly SqliteConnection _connection;
        private readonly SqliteTransaction _transaction;

        public Held(string path)
        {
            _connection = new SqliteConnection($"Data Source={path};Pooling=False");
            _connection.Open();
            _transaction = _connection.BeginTransaction();
        }

        public void Dispose()
        {
            _transaction.Dispose();
            _connection.Dispose();
        }
    }
}
