using System.Globalization;
using Incubation.Core.Readings;
using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace Incubation.Storage.Readings;

/// <summary>Opens the readings file, makes its tables or brings them up to date, and checks what durability rests on.</summary>
internal static class ReadingsSchema
{
    // Below it, a checkpoint that races a commit can damage a WAL file (SQLite release notes of 3.51.3, "WAL-reset bug").
    private static readonly Version LeastSqlite = new(3, 51, 3);

    // 8,000 pages of 2 KiB between checkpoints: fewer of their syncs under load, 16 MiB of disk. Nobody else writes, so another program
    // that holds the file is waited for briefly only.
    private const string Pragmas =
        "PRAGMA busy_timeout=2000; PRAGMA wal_autocheckpoint=8000; PRAGMA journal_size_limit=67108864; PRAGMA cache_size=-16384; PRAGMA temp_store=MEMORY;";

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
            Bring(connection);
            Expect(connection, "PRAGMA journal_mode=WAL", "wal",
                "The readings file can't use a write-ahead log. Put the data directory on a local disk, not on a network share.");
            Run(connection, string.Create(CultureInfo.InvariantCulture, $"PRAGMA synchronous={(int)options.Durability}; {Pragmas}"));
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

    private static void Bring(SqliteConnection connection)
    {
        int version = int.Parse(Ask(connection, "PRAGMA user_version"), CultureInfo.InvariantCulture);
        if (version > ReadingsTables.Version)
        {
            throw new StoreUnavailableException(
                $"The readings file was written by a newer version of the service (schema {version}, this one knows {ReadingsTables.Version}). "
                + "Start that version, or restore a backup from before the update.");
        }

        if (version == 0)
        {
            if (Ask(connection, "SELECT count(*) FROM sqlite_schema") != "0")
            {
                throw new StoreUnavailableException("The readings file belongs to another program. Choose another data directory.");
            }

            Run(connection, ReadingsTables.BeforeTables);
            Change(connection, ReadingsTables.New);
        }
        else if (version == 1)
        {
            Change(connection, ReadingsTables.FromFirst);
            Repack(connection);
        }
    }

    private static void Change(SqliteConnection connection, string tables)
    {
        using SqliteTransaction transaction = connection.BeginTransaction();
        Run(connection, string.Create(CultureInfo.InvariantCulture, $"{tables} PRAGMA user_version={ReadingsTables.Version};"));
        transaction.Commit();
    }

    // Smaller pages need the whole file written anew. Without room for that on the disk the old ones stay: nothing depends on them.
    private static void Repack(SqliteConnection connection)
    {
        try
        {
            Run(connection, $"PRAGMA journal_mode=DELETE; {ReadingsTables.BeforeTables} VACUUM;");
        }
        catch (SqliteException full) when (full.SqliteErrorCode == raw.SQLITE_FULL)
        {
            // As said above.
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
