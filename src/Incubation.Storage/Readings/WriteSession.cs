using System.Globalization;
using Incubation.Core.Readings;
using Incubation.Storage.Readings.Keeping;
using Incubation.Storage.Readings.Rollups;
using Incubation.Storage.Readings.Sealed;
using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings;

/// <summary>
/// One connection that writes, and what is remembered while it lives. After a failed commit the whole session is thrown away, so nothing
/// remembered can differ from the file. One thread only.
/// </summary>
internal sealed class WriteSession : IDisposable
{
    private readonly SqliteConnection _connection;
    private readonly Statement _begin, _commit, _insert, _find, _remove, _addSeries, _findSeries;
    private readonly RollupWriter _rollups;
    private readonly DaySealer _sealer;
    private readonly ICommitPart[] _parts;
    private readonly Dictionary<SeriesKey, SeriesState> _series = [];

    public WriteSession(SqliteReadingStoreOptions options)
    {
        _connection = ReadingsSchema.OpenForWriting(options);
        _begin = new Statement(_connection, "BEGIN IMMEDIATE");
        _commit = new Statement(_connection, "COMMIT");
        _insert = new Statement(_connection,
            "INSERT INTO reading (series, at, value, arrived, marks) VALUES (?1, ?2, ?3, ?4, ?5) ON CONFLICT DO NOTHING");
        _find = new Statement(_connection, "SELECT value, arrived, marks FROM reading WHERE series = ?1 AND at = ?2");
        _remove = new Statement(_connection, "DELETE FROM reading WHERE series = ?1 AND at = ?2");
        _addSeries = new Statement(_connection, "INSERT INTO series (probe, quantity, rolled) VALUES (?1, ?2, ?3) ON CONFLICT DO NOTHING");
        _findSeries = new Statement(_connection, "SELECT id, rolled FROM series WHERE probe = ?1 AND quantity = ?2");
        _rollups = new RollupWriter(_connection);
        _sealer = new DaySealer(_connection, _rollups);
        _parts = [.. options.Parts.Select(make => make(_connection))];
    }

    /// <summary>The connection, for questions between two commits.</summary>
    public SqliteConnection Connection => _connection;

    /// <summary>Stores the readings of all of them in one transaction; on return they are on the disk.</summary>
    /// <param name="batch">What to store.</param>
    /// <param name="within">What else is to be done in the same transaction.</param>
    public void Commit(IReadOnlyList<PendingCommit> batch, Action<SqliteConnection>? within = null)
    {
        _begin.Run();
        foreach (PendingCommit pending in batch)
        {
            foreach (ref readonly Reading reading in pending.Readings.Span)
            {
                Add(in reading);
            }
        }

        _rollups.Flush();
        foreach (ICommitPart part in _parts)
        {
            part.Flush();
        }

        within?.Invoke(_connection);
        _commit.Run();
    }

    /// <summary>Does a piece of keeping in a transaction of its own.</summary>
    public void Do(Action<WriteSession> chore)
    {
        _begin.Run();
        chore(this);
        _rollups.Flush();
        _commit.Run();
    }

    /// <inheritdoc cref="DaySealer.Watch"/>
    public bool Watch(in SeriesKey key, long day) => _sealer.Watch(SeriesOf(key, day), day);

    /// <inheritdoc cref="DaySealer.Seal"/>
    public bool Seal(in SeriesKey key, long day, SealedRow row) => _sealer.Seal(SeriesOf(key, day), day, row);

    /// <summary>Gives everything of a day up and notes that, unless a copy elsewhere still waits for it.</summary>
    /// <returns>Whether the day is gone.</returns>
    public bool Drop(in SeriesKey key, long day)
    {
        SeriesState series = SeriesOf(key, day);
        if (CopyOutboxSchema.Owes(_connection, series.Id, day))
        {
            return false;
        }

        _sealer.Drop(series, day);
        Note(GivenUp.NoteOf(series.Id), GivenUp.With(GivenUp.Of(_connection, series.Id), day));
        return true;
    }

    /// <summary>Gives free pages back to the disk; whether there were any that could be.</summary>
    public bool GiveBack(int pages)
    {
        using Statement before = new(_connection, "PRAGMA page_count");
        using Statement vacuum = new(_connection, string.Create(CultureInfo.InvariantCulture, $"PRAGMA incremental_vacuum({pages})"));
        before.Row();
        long had = before.Integer(0);
        before.Done();
        while (vacuum.Row())
        {
            // A step frees a page.
        }

        before.Row();
        long has = before.Integer(0);
        before.Done();
        return has < had;
    }

    /// <summary>Remembers a line under a name.</summary>
    public void Note(string name, string value)
    {
        using Statement put = new(_connection, "INSERT OR REPLACE INTO note (name, value) VALUES (?1, ?2)");
        put.Bind(1, name).Bind(2, value).Run();
    }

    /// <summary>Empties the write-ahead log into the file, so that a stopped service leaves one file.</summary>
    public void Checkpoint()
    {
        using Statement checkpoint = new(_connection, "PRAGMA wal_checkpoint(TRUNCATE)");
        checkpoint.Run();
    }

    public void Dispose()
    {
        foreach (Statement statement in new[] { _begin, _commit, _insert, _find, _remove, _addSeries, _findSeries })
        {
            statement.Dispose();
        }

        _sealer.Dispose();
        _rollups.Dispose();
        foreach (ICommitPart part in _parts)
        {
            part.Dispose();
        }

        _connection.Dispose();
    }

    private void Add(in Reading reading)
    {
        SeriesState series = SeriesOf(reading.Series, reading.At.ToUnixTimeMilliseconds());
        StoredRow row = StoredRow.Of(in reading);
        if ((row.Marks & ReadingMarks.Imported) != 0)
        {
            AddImported(series, reading.Series, row);
        }
        else if ((row.Marks & Reading.AtArrival) != 0)
        {
            AddAtArrival(series, reading.Series, row);
        }
        else if (IsKnown(series, row.At))
        {
            // Sent again long after; its day stays sealed.
        }
        else if (Insert(series, row))
        {
            Stored(series, reading.Series, row);
        }
        else
        {
            MakeRoom(series, reading.Series, row);
        }
    }

    // A file may be brought in again, in parts or whole: what stands at that time already is that reading.
    private void AddImported(SeriesState series, in SeriesKey key, StoredRow row)
    {
        long day = Spans.StartOf(row.At, Spans.Day);
        bool there = series.Sealed.Contains(day) && _sealer.Find(series, day, row.At) is not null;
        if (!there && Insert(series, row))
        {
            Stored(series, key, row);
        }
    }

    // Two readings that only share their arrival are two readings: the later one takes the next free millisecond.
    private void AddAtArrival(SeriesState series, in SeriesKey key, StoredRow row)
    {
        row = row with { At = series.NextFree(row.At) };
        while (!Insert(series, row))
        {
            row = row with { At = row.At + 1 };
        }

        series.Took(row.At);
        Stored(series, key, row);
    }

    // The same time again is the same reading, unless what stands there only arrived then: that one steps aside for a probe's own time.
    private void MakeRoom(SeriesState series, in SeriesKey key, StoredRow row)
    {
        _find.Bind(1, series.Id).Bind(2, row.At);
        if (!_find.Row())
        {
            return;
        }

        StoredRow there = new(row.At, _find.Real(0), _find.Integer(1), (ReadingMarks)_find.Integer(2));
        _find.Done();
        if ((there.Marks & Reading.AtArrival) == 0)
        {
            return;
        }

        _remove.Bind(1, series.Id).Bind(2, row.At).Run();
        Insert(series, row);
        Stored(series, key, row);
        AddAtArrival(series, key, there with { At = row.At + 1 });
    }

    private bool IsKnown(SeriesState series, long at)
    {
        if (series.Sealed.Count == 0)
        {
            return false;
        }

        long day = Spans.StartOf(at, Spans.Day);
        return series.Sealed.Contains(day) && _sealer.Find(series, day, at) is { } there && (there.Marks & Reading.AtArrival) == 0;
    }

    private bool Insert(SeriesState series, in StoredRow row)
    {
        if (series.Sealed.Count > 0 && Spans.StartOf(row.At, Spans.Day) is var day && series.Sealed.Contains(day))
        {
            _sealer.Reopen(series, day);
        }

        _insert.Bind(1, series.Id).Bind(2, row.At).Bind(3, row.Value).Bind(4, row.Arrived).Bind(5, (long)row.Marks).Run();
        return _insert.Changes == 1;
    }

    private void Stored(SeriesState series, in SeriesKey key, in StoredRow row)
    {
        _rollups.Changed(series, row.At);
        if (_parts.Length > 0)
        {
            Reading stored = row.For(key);
            foreach (ICommitPart part in _parts)
            {
                part.Add(series.Id, key, stored);
            }
        }
    }

    private SeriesState SeriesOf(in SeriesKey key, long at)
    {
        if (_series.TryGetValue(key, out SeriesState? known))
        {
            return known;
        }

        _addSeries.Bind(1, key.Probe).Bind(2, key.Quantity.Name).Bind(3, Spans.StartOf(at, Spans.Hour)).Run();
        _findSeries.Bind(1, key.Probe).Bind(2, key.Quantity.Name);
        _findSeries.Row();
        (long id, long rolled) = (_findSeries.Integer(0), _findSeries.Integer(1));
        _findSeries.Done();
        SeriesState series = new(id, rolled, _sealer.Days(id));
        _series.Add(key, series);
        return series;
    }
}
