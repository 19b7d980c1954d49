using System.Data.Common;
using System.Globalization;
using Microsoft.EntityFrameworkCore.Diagnostics;

namespace Incubation.Storage.Records;

/// <summary>
/// Sets on every connection what the records rely on, and reads each setting back: a pragma that is not understood is silently ignored
/// by SQLite, and <c>synchronous</c> and <c>foreign_keys</c> belong to the connection, not to the file.
/// </summary>
public sealed class RecordsPragmas : DbConnectionInterceptor
{
    /// <summary>The write-ahead log is cut back to this after a checkpoint, bytes; otherwise it keeps its largest size for ever.</summary>
    public const long JournalSizeLimit = 64L * 1024 * 1024;

    // synchronous: 2 is FULL. What a person entered is on the disk when the answer goes out, also after a power cut.
    private static readonly (string Pragma, string Set, string Expected)[] Settings =
    [
        ("journal_mode", "WAL", "wal"),
        ("synchronous", "FULL", "2"),
        ("foreign_keys", "ON", "1"),
        ("journal_size_limit", JournalSizeLimit.ToString(CultureInfo.InvariantCulture), JournalSizeLimit.ToString(CultureInfo.InvariantCulture)),
    ];

    /// <inheritdoc/>
    public override void ConnectionOpened(DbConnection connection, ConnectionEndEventData eventData) => Apply(connection);

    /// <inheritdoc/>
    public override Task ConnectionOpenedAsync(
        DbConnection connection, ConnectionEndEventData eventData, CancellationToken cancellationToken = default)
    {
        // SQLite has no asynchronous I/O: the async calls would run on this thread all the same.
        Apply(connection);
        return Task.CompletedTask;
    }

    private static void Apply(DbConnection connection)
    {
        using DbCommand command = connection.CreateCommand();
        foreach ((string pragma, string set, string expected) in Settings)
        {
            string found = Scalar(command, $"PRAGMA {pragma}");
            if (found == expected)
            {
                continue;
            }

            Scalar(command, $"PRAGMA {pragma} = {set}");
            found = Scalar(command, $"PRAGMA {pragma}");
            if (found != expected)
            {
                throw new RecordsUnavailableException(
                    $"The records database can't be opened safely: SQLite answers {pragma} = {found} where {expected} was asked for. " +
                    "Allowed: a file on a local disk (write-ahead logging does not work on network file systems).");
            }
        }
    }

    private static string Scalar(DbCommand command, string sql)
    {
        command.CommandText = sql;
        return Convert.ToString(command.ExecuteScalar(), CultureInfo.InvariantCulture) ?? "";
    }
}
