namespace Incubation.Storage.Readings;

/// <summary>
/// The tables of readings.db. Times are Unix milliseconds, days are UTC days. <c>reading</c> holds the readings of days that are not sealed.
/// <c>minute</c>, <c>hour</c> and <c>day</c> hold what readings say of each with a good one; for a day that is not sealed they are right for
/// everything before its series' <c>rolled</c>, and what came later is counted from <c>reading</c> by whoever asks. A row of <c>sealed</c> is
/// one series' whole day: its readings and minutes as compressed columns, while its hours and its day stay rows.
/// </summary>
internal static class ReadingsTables
{
    public const int Version = 2;

    /// <summary>
    /// A reading dirties one page at the end of its series, and each commit writes the pages it dirtied: half the usual size halves what a
    /// small facility writes to its card, at the same speed.
    /// </summary>
    public const int PageBytes = 2_048;

    public const string BeforeTables = "PRAGMA page_size=2048; PRAGMA auto_vacuum=INCREMENTAL;";

    public const string New = """
        CREATE TABLE series (
            id INTEGER PRIMARY KEY, probe TEXT NOT NULL, quantity TEXT NOT NULL, rolled INTEGER NOT NULL, UNIQUE (probe, quantity)) STRICT;
        CREATE TABLE reading (
            series INTEGER NOT NULL, at INTEGER NOT NULL, value REAL NOT NULL, arrived INTEGER NOT NULL, marks INTEGER NOT NULL,
            PRIMARY KEY (series, at)) STRICT, WITHOUT ROWID;
        """ + Second;

    /// <summary>
    /// From the first schema, which had minutes only. Nothing is counted here, so that a start never waits for it: <c>rolled</c> goes back to
    /// the first reading, and the tables fill as keeping goes on.
    /// </summary>
    public const string FromFirst = """
        DROP TABLE minute;
        CREATE TABLE series_now (
            id INTEGER PRIMARY KEY, probe TEXT NOT NULL, quantity TEXT NOT NULL, rolled INTEGER NOT NULL, UNIQUE (probe, quantity)) STRICT;
        INSERT INTO series_now SELECT id, probe, quantity,
            coalesce((SELECT min(at) - (min(at) % 3600000 + 3600000) % 3600000 FROM reading WHERE series = series.id), 0) FROM series;
        DROP TABLE series;
        ALTER TABLE series_now RENAME TO series;
        """ + Second;

    private const string Second = """

        CREATE TABLE minute (
            series INTEGER NOT NULL, start INTEGER NOT NULL, count INTEGER NOT NULL, sum REAL NOT NULL, least REAL NOT NULL,
            greatest REAL NOT NULL, PRIMARY KEY (series, start)) STRICT, WITHOUT ROWID;
        CREATE TABLE hour (
            series INTEGER NOT NULL, start INTEGER NOT NULL, count INTEGER NOT NULL, sum REAL NOT NULL, least REAL NOT NULL,
            greatest REAL NOT NULL, PRIMARY KEY (series, start)) STRICT, WITHOUT ROWID;
        CREATE TABLE day (
            series INTEGER NOT NULL, start INTEGER NOT NULL, count INTEGER NOT NULL, sum REAL NOT NULL, least REAL NOT NULL,
            greatest REAL NOT NULL, PRIMARY KEY (series, start)) STRICT, WITHOUT ROWID;
        CREATE TABLE sealed (
            id INTEGER PRIMARY KEY AUTOINCREMENT, series INTEGER NOT NULL, day INTEGER NOT NULL, count INTEGER NOT NULL,
            checksum INTEGER NOT NULL, minutes BLOB NOT NULL, readings BLOB NOT NULL, UNIQUE (series, day)) STRICT;
        CREATE TABLE note (name TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT, WITHOUT ROWID;
        """;
}
