using System.Globalization;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;

namespace Incubation.Storage.Records;

/// <summary>
/// Brings the records up to the schema of this program. Call it once at start, holding the data directory alone: a migration lock that
/// is found then was left behind by a process that died, and is removed.
/// </summary>
public sealed class RecordsOpening(IDbContextFactory<RecordsContext> contexts)
{
    /// <summary>Earlier releases of SQLite can lose or corrupt commits when a checkpoint races one (fixed in 3.51.3, sqlite.org/changes.html).</summary>
    public static readonly Version OldestSqlite = new(3, 51, 3);

    // A migration of this size of file takes seconds. Longer means that something else holds the file.
    private static readonly TimeSpan MigrationLimit = TimeSpan.FromMinutes(5);

    /// <summary>Sets the options that every records context shares.</summary>
    /// <param name="options">Options to fill.</param>
    /// <param name="file">Path of the SQLite file.</param>
    /// <param name="pooling">Whether connections are kept open between uses; tests that move files turn it off.</param>
    public static void Configure(DbContextOptionsBuilder options, string file, bool pooling = true)
    {
        string connection = new SqliteConnectionStringBuilder
        {
            DataSource = file,
            ForeignKeys = true,
            DefaultTimeout = 5,
            Pooling = pooling,
        }.ToString();
        options.UseSqlite(connection).AddInterceptors(new RecordsPragmas());
    }

    /// <summary>Checks, keeps a copy of an older schema, and migrates.</summary>
    /// <returns>Names of the migrations that were applied; empty when the schema was current.</returns>
    /// <exception cref="RecordsUnavailableException">Newer than this program, damaged, locked, or not writable.</exception>
    public async Task<IReadOnlyList<string>> MigrateAsync(CancellationToken cancellationToken)
    {
        await using RecordsContext records = await contexts.CreateDbContextAsync(cancellationToken);
        string file = new SqliteConnectionStringBuilder(records.Database.GetConnectionString()).DataSource;
        try
        {
            return await MigrateAsync(records, file, cancellationToken);
        }
        catch (SqliteException error)
        {
            throw new RecordsUnavailableException(Words(file, error), error);
        }
        catch (OperationCanceledException error) when (!cancellationToken.IsCancellationRequested)
        {
            throw new RecordsUnavailableException(
                $"The records ({file}) could not be brought up to date within {MigrationLimit.TotalMinutes} minutes. " +
                "Another program may hold the file: close it and start again.", error);
        }
    }

    private static async Task<IReadOnlyList<string>> MigrateAsync(RecordsContext records, string file, CancellationToken cancellationToken)
    {
        await RequireSqliteAsync(records, cancellationToken);
        string[] known = [.. records.Database.GetMigrations()];
        string[] applied = [.. await records.Database.GetAppliedMigrationsAsync(cancellationToken)];
        string[] foreign = [.. applied.Except(known)];
        if (foreign.Length > 0)
        {
            throw new RecordsUnavailableException(
                $"The records ({file}) were written by a newer version of this program (schema {foreign[^1]}; this one knows {known[^1]}). " +
                "Start the newer version, or put a copy from before the update in place.");
        }

        string[] pending = [.. known.Except(applied)];
        if (pending.Length == 0)
        {
            return [];
        }

        if (applied.Length > 0)
        {
            await KeepCopyAsync(records, $"{file}.before-{pending[0]}", cancellationToken);
        }

        await DropStaleLockAsync(records, cancellationToken);
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(cancellationToken);
        limit.CancelAfter(MigrationLimit);
        await records.Database.MigrateAsync(limit.Token);
        return pending;
    }

    private static async Task RequireSqliteAsync(RecordsContext records, CancellationToken cancellationToken)
    {
        string version = await records.Database.SqlQueryRaw<string>("SELECT sqlite_version() AS Value").SingleAsync(cancellationToken);
        if (Version.Parse(version) < OldestSqlite)
        {
            throw new RecordsUnavailableException(
                $"SQLite is {version}; {OldestSqlite} or newer is needed, because older ones can lose a commit during a checkpoint. " +
                "Use the library that ships with the program.");
        }
    }

    /// <summary>A copy from before the change, so that a person can go back. One per migration; an older one of that name is replaced.</summary>
    private static async Task KeepCopyAsync(RecordsContext records, string copy, CancellationToken cancellationToken)
    {
        File.Delete(copy);
        await records.Database.ExecuteSqlAsync($"VACUUM INTO {copy}", cancellationToken);
    }

    private static async Task DropStaleLockAsync(RecordsContext records, CancellationToken cancellationToken)
    {
        int tables = await records.Database
            .SqlQueryRaw<int>("SELECT count(*) AS Value FROM sqlite_master WHERE name = '__EFMigrationsLock'")
            .SingleAsync(cancellationToken);
        if (tables > 0)
        {
            await records.Database.ExecuteSqlRawAsync("DELETE FROM __EFMigrationsLock", cancellationToken);
        }
    }

    // Result codes: sqlite.org/rescode.html.
    private static string Words(string file, SqliteException error) => error.SqliteErrorCode switch
    {
        8 => $"The records ({file}) can't be written: the file or its directory is read-only. Give this user the right to write it.",
        11 or 26 => $"The records ({file}) are damaged or no database. Stop the service, move the file and its -wal and -shm away, and put a copy in place.",
        13 => $"The records ({file}) can't be brought up to date: the disk is full. Make room and start again.",
        14 => $"The records ({file}) can't be opened. Allowed: a file in a directory that this user may write.",
        5 or 6 => $"The records ({file}) are locked by another program. Close it and start again.",
        _ => string.Create(CultureInfo.InvariantCulture, $"The records ({file}) can't be opened: {error.Message} (code {error.SqliteExtendedErrorCode})."),
    };
}
