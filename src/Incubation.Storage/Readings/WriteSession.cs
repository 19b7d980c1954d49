using Incubation.Core.Readings;
using Incubation.Storage.Readings.Rollups;
using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings;

/// <summary>
/// One connection that writes, and what is remembered while it lives. After a failed commit the whole session is thrown away, so nothing
/// remembered can differ from the file. One thread only.
/// </summary>
internal sealed class WriteSession : IDisposable
{
    private const ReadingMarks AtArrival = ReadingMarks.ArrivalTime | ReadingMarks.ClockOff;

    private readonly SqliteConnection _connection;
    private readonly Statement _begin, _commit, _insert, _find, _remove, _addSeries, _findSeries;
    private readonly RollupWriter _rollups;
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
        _parts = [.. options.Parts.Select(make => make(_connection))];
    }

    /// <summary>Stores the readings of all of them in one transaction; on return they are on the disk.</summary>
    public void Commit(IReadOnlyList<PendingCommit> batch)
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

        _rollups.Dispose();
        foreach (ICommitPart part in _parts)
        {
            part.Dispose();
        }

        _connection.Dispose();
    }

    private void Add(in Reading reading)
    {
        SeriesState series = SeriesOf(in reading);
        StoredRow row = StoredRow.Of(in reading);
        if ((row.Marks & AtArrival) != 0)
        {
            AddAtArrival(series, reading.Series, row);
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
        if ((there.Marks & AtArrival) == 0)
        {
            return;
        }

        _remove.Bind(1, series.Id).Bind(2, row.At).Run();
        Insert(series, row);
        Stored(series, key, row);
        AddAtArrival(series, key, there with { At = row.At + 1 });
    }

    private bool Insert(SeriesState series, in StoredRow row)
    {
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

    private SeriesState SeriesOf(in Reading reading)
    {
        SeriesKey key = reading.Series;
        if (_series.TryGetValue(key, out SeriesState? known))
        {
            return known;
        }

        long open = Spans.StartOf(reading.At.ToUnixTimeMilliseconds(), Spans.Hour);
        _addSeries.Bind(1, key.Probe).Bind(2, key.Quantity.Name).Bind(3, open).Run();
        _findSeries.Bind(1, key.Probe).Bind(2, key.Quantity.Name);
        _findSeries.Row();
        SeriesState series = new(_findSeries.Integer(0), _findSeries.Integer(1));
        _findSeries.Done();
        _series.Add(key, series);
        return series;
    }
}
