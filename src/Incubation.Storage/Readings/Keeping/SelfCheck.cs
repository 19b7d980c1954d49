using Incubation.Core.Readings;
using Incubation.Storage.Readings.Queries;
using Incubation.Storage.Readings.Sealed;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Incubation.Storage.Readings.Keeping;

/// <summary>
/// Looks the whole file over while it is in use: the database's own check, table by table, and the checksum of every sealed day. Each slice is
/// a short read of its own, so that the write-ahead log is never held up for long.
/// </summary>
internal sealed class SelfCheck(ReadingWriter writer, ReadingQueries queries)
{
    private const int RowsAtOnce = 100;
    private const string Note = "check";
    private const string Restore = "Check the disk, and restore a backup of the readings file.";

    public async Task<StoreCheck> RunAsync(Func<Instant> now, CancellationToken stop)
    {
        string? found = null;
        List<string> tables = queries.Run(Tables);
        foreach (string table in tables)
        {
            stop.ThrowIfCancellationRequested();
            found ??= Guarded(connection => Structure(connection, table));
        }

        for (long? after = 0; after is { } id && found is null;)
        {
            stop.ThrowIfCancellationRequested();
            (after, found) = queries.Run(connection => Days(connection, id));
            await Task.Yield();
        }

        StoreCheck check = new(now(), found is null, found ?? "The readings file was looked over whole and nothing is wrong with it.");
        string text = $"{check.At.ToUnixTimeMilliseconds()}|{(check.Ok ? 1 : 0)}|{check.Words}";
        await writer.AddAsync(new PendingCommit(default, session => session.Note(Note, text)), stop);
        return check;
    }

    /// <summary>What the last check on this file said.</summary>
    public static StoreCheck? Last(SqliteConnection connection)
    {
        using Statement ask = new(connection, "SELECT value FROM note WHERE name = ?1");
        ask.Bind(1, Note);
        if (!ask.Row())
        {
            return null;
        }

        string[] parts = ask.Text(0).Split('|', 3);
        ask.Done();
        return new StoreCheck(Instant.FromUnixTimeMilliseconds(long.Parse(parts[0], System.Globalization.CultureInfo.InvariantCulture)), parts[1] == "1", parts[2]);
    }

    private string? Guarded(Func<SqliteConnection, string?> look)
    {
        try
        {
            return queries.Run(look);
        }
        catch (SqliteException error)
        {
            return $"The readings file can't be read whole ({error.Message}). {Restore}";
        }
    }

    private static List<string> Tables(SqliteConnection connection)
    {
        using Statement select = new(connection, "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name");
        List<string> names = [];
        while (select.Row())
        {
            names.Add(select.Text(0));
        }

        return names;
    }

    private static string? Structure(SqliteConnection connection, string table)
    {
        using Statement check = new(connection, $"PRAGMA quick_check('{table.Replace("'", "''", StringComparison.Ordinal)}')");
        string said = check.Row() ? check.Text(0) : "ok";
        check.Done();
        return said == "ok" ? null : $"The readings file is damaged: {said}. {Restore}";
    }

    private static (long? After, string? Found) Days(SqliteConnection connection, long after)
    {
        using Statement select = new(connection, """
            SELECT s.id, s.count, s.checksum, s.minutes, s.readings, s.day, n.probe, n.quantity FROM sealed s JOIN series n ON n.id = s.series
            WHERE s.id > ?1 ORDER BY s.id LIMIT ?2
            """);
        select.Bind(1, after).Bind(2, RowsAtOnce);
        long? last = null;
        while (select.Row())
        {
            last = select.Integer(0);
            if (!new SealedRow(select.Integer(1), select.Integer(2), select.Blob(3), select.Blob(4)).IsWhole)
            {
                SeriesKey key = new(select.Text(6), new Quantity(select.Text(7)));
                string day = Instant.FromUnixTimeMilliseconds(select.Integer(5)).InUtc().Date.ToString("uuuu-MM-dd", System.Globalization.CultureInfo.InvariantCulture);
                select.Done();
                return (null, $"The readings of {key} on {day} are damaged on the disk. {Restore}");
            }
        }

        return (last, null);
    }
}
