using Incubation.Core.Readings;
using Microsoft.Data.Sqlite;
using SQLitePCL;

namespace Incubation.Storage.Readings;

/// <summary>Turns what the database says into the cause and the fix, in words.</summary>
internal static class StoreTrouble
{
    public static StoreUnavailableException Closed() =>
        new("The readings store is closed: the service is stopping or not yet started. Send the reading again.");

    public static StoreUnavailableException DamagedDay() => new(
        "A stored day of readings is damaged on the disk. Check the disk, and restore a backup of the readings file to have that day back.");

    public static StoreUnavailableException From(Exception error) => error switch
    {
        StoreUnavailableException known => known,
        SqliteException sqlite => new StoreUnavailableException(Words(sqlite.SqliteErrorCode), sqlite),
        _ => new StoreUnavailableException($"Readings can't be stored: {error.Message}", error),
    };

    /// <summary>Whether the cause is the disk or the file, and not what was to be stored: then it may go elsewhere for a while.</summary>
    public static bool IsOfTheDisk(Exception error) => error switch
    {
        StoreUnavailableException => true,
        SqliteException sqlite => sqlite.SqliteErrorCode is not (raw.SQLITE_CONSTRAINT or raw.SQLITE_ERROR or raw.SQLITE_MISMATCH or raw.SQLITE_MISUSE
            or raw.SQLITE_RANGE or raw.SQLITE_TOOBIG or raw.SQLITE_SCHEMA),
        _ => error is IOException or UnauthorizedAccessException,
    };

    /// <summary>Whether the disk has no room.</summary>
    public static bool IsFull(Exception error)
        => (error as SqliteException ?? error.InnerException as SqliteException)?.SqliteErrorCode == raw.SQLITE_FULL;

    private static string Words(int code) => code switch
    {
        raw.SQLITE_FULL => "The disk is full, so readings can't be stored. Free some space on the data directory's disk; storing goes on by itself.",
        raw.SQLITE_READONLY or raw.SQLITE_PERM or raw.SQLITE_AUTH =>
            "The readings file can't be written. Give the service's user the right to write to the data directory and its files.",
        raw.SQLITE_CANTOPEN => "The readings file can't be opened. Check that the data directory exists and the service's user may write to it.",
        raw.SQLITE_IOERR => "The disk reported an error, so readings can't be stored. Check the disk and its cable, and keep a backup at hand.",
        raw.SQLITE_BUSY or raw.SQLITE_LOCKED => "Another program holds the readings file. Stop it: only one service may use a data directory.",
        raw.SQLITE_CORRUPT or raw.SQLITE_NOTADB =>
            "The readings file is damaged. Stop the service, move readings.db and its -wal and -shm files away, and restore a backup.",
        _ => "The database refused the readings. Look at the log for what it said, and check the data directory.",
    };
}
