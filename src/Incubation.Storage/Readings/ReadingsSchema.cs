using System.Globalization;
using Incubation.Core.Readings;
using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings;

/// <summary>
/// Opens the readings file and makes its tables. Times are Unix milliseconds. <c>minute</c> holds what <c>reading</c> says of each minute with
/// a good reading; it is kept in the same transaction and can be counted again from there.
/// </summary>
internal static class ReadingsSchema
{
    public const int Version = 1;

    // Below it, a checkpoint that races a commit can damage a WAL file (SQLite release notes of 3.51.3, "WAL-reset bug").
    private static readonly Version LeastSqlite = new(3, 51, 3);

    // 4,000 pages of 4 KiB between checkpoints: fewer of their syncs under load, 16 MiB of disk. Nobody else writes, so another program
    // that holds the file is waited for briefly only.
    private const string Pragmas =
        "PRAGMA wal_autocheckpoint=4000; PRAGMA journal_size_limit=67108864; PRAGMA cache_size=-16384; PRAGMA temp_store=MEMORY;";

    private const string Tables = """
        CREATE TABLE series (id INTEGER PRIMARY KEY, probe TEXT NOT NULL, quantity TEXT NOT NULL, UNIQUE (probe, quantity)) STRICT;
        CREATE TABLE reading (
            series INTEGER NOT NULL, at INTEGER NOT NULL, value REAL NOT NULL, arrived INTEGER NOT NULL, marks INTEGER NOT NULL,
            PRIMARY KEY (series, at)) STRICT, WITHOUT ROWID;
        CREATE TABLE minute (
            series INTEGER NOT NULL, start INTEGER NOT NULL, count INTEGER NOT NULL, sum REAL NOT NULL, least REAL NOT NULL,
            greatest REAL NOT NULL, PRIMARY KEY (series, start)) STRICT, WITHOUT ROWID;
        """;

    /// <summary>Opens the one connection that writes, with every setting that durability rests on checked.</summary>
    /// <exception cref="StoreUnavailableException">The file isn't ours, is from a newer version, or the database isn't as it must be.</exception>
    public static SqliteConnection OpenForWriting(SqliteReadingStoreOptions options)
    {
        SqliteConnection connection = new(new SqliteConnectionStringBuilder
        {
            DataSource = options.Path,
            Mode = SqliteOpenMode.ReadWriteCreate,
            Pooling = false,
            DefaultTimeout = 5,
        }.ToString());
        try
        {
            connection.Open();
            CheckSqlite(connection);
            CheckVersion(connection);
            Expect(connection, "PRAGMA journal_mode=WAL", "wal",
                "The readings file can't use a write-ahead log. Put the data directory on a local disk, not on a network share.");
            Run(connection, string.Create(CultureInfo.InvariantCulture, $"PRAGMA busy_timeout={(long)options.LockPatience.TotalMilliseconds}; PRAGMA synchronous={(int)options.Durability}; {Pragmas}"));
            Expect(connection, "PRAGMA synchronous", ((int)options.Durability).ToString(CultureInfo.InvariantCulture),
                "The database doesn't take synchronous=FULL, so nothing it stores is safe. Use the SQLite that comes with the service.");
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    private static void CheckSqlite(SqliteConnection connection)
    {
        string text = Ask(connection, "SELECT sqlite_version()");
        if (!System.Version.TryParse(text, out Version? version) || version < LeastSqlite)
        {
            throw new StoreUnavailableException(
                $"SQLite {text} is too old to trust with readings: at least {LeastSqlite} is needed. Install the service whole, with its own SQLite.");
        }
    }

    private static void CheckVersion(SqliteConnection connection)
    {
        int version = int.Parse(Ask(connection, "PRAGMA user_version"), CultureInfo.InvariantCulture);
        if (version > Version)
        {
            throw new StoreUnavailableException(
                $"The readings file was written by a newer version of the service (schema {version}, this one knows {Version}). "
                + "Start that version, or restore a backup from before the update.");
        }

        if (version == 0)
        {
            if (Ask(connection, "SELECT count(*) FROM sqlite_schema") != "0")
            {
                throw new StoreUnavailableException("The readings file belongs to another program. Choose another data directory.");
            }

            using SqliteTransaction transaction = connection.BeginTransaction();
            Run(connection, string.Create(CultureInfo.InvariantCulture, $"{Tables} PRAGMA user_version={Version};"));
            transaction.Commit();
        }
    }

    private static void Expect(SqliteConnection connection, string question, string answer, string otherwise)
    {
        if (Ask(connection, question) != answer)
        {
            throw new StoreUnavailableException(otherwise);
        }
    }

    private static string Ask(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        return Convert.ToString(command.ExecuteScalar(), CultureInfo.InvariantCulture) ?? "";
    }

    private static void Run(SqliteConnection connection, string sql)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = sql;
        command.ExecuteNonQuery();
    }
}
