using System.IO.Hashing;
using Incubation.Core.Readings;
using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings.Sealed;

/// <summary>A day's row as it lies on the disk.</summary>
internal sealed record SealedRow(long Count, long Checksum, byte[] Minutes, byte[] Readings)
{
    public static SealedRow Of(ReadOnlySpan<StoredRow> rows)
    {
        (byte[] readings, byte[] minutes) = DayColumns.Pack(rows);
        return new SealedRow(rows.Length, Sum(minutes, readings), minutes, readings);
    }

    /// <summary>Whether the bytes are those that were written.</summary>
    public bool IsWhole => Checksum == Sum(Minutes, Readings);

    // Finds a flipped bit, not a forger: a fast hash is enough.
    private static long Sum(byte[] minutes, byte[] readings)
    {
        XxHash3 hash = new();
        hash.Append(minutes);
        hash.Append(readings);
        return unchecked((long)hash.GetCurrentHashAsUInt64());
    }
}

/// <summary>The sealed days on one connection.</summary>
internal sealed class SealedTable : IDisposable
{
    private readonly Statement _days, _find, _load, _put, _remove;

    public SealedTable(SqliteConnection connection)
    {
        _days = new Statement(connection, "SELECT day, id FROM sealed WHERE series = ?1 AND day > ?2 AND day < ?3 ORDER BY day");
        _find = new Statement(connection, "SELECT id FROM sealed WHERE series = ?1 AND day = ?2");
        _load = new Statement(connection, "SELECT count, checksum, minutes, readings FROM sealed WHERE id = ?1");
        _put = new Statement(connection, "INSERT INTO sealed (series, day, count, checksum, minutes, readings) VALUES (?1, ?2, ?3, ?4, ?5, ?6)");
        _remove = new Statement(connection, "DELETE FROM sealed WHERE series = ?1 AND day = ?2");
    }

    /// <summary>Sealed days of a series that touch (from − a day, to), oldest first, each with its row's id, which is never used again.</summary>
    public List<(long Day, long Id)> Days(long series, long from, long to)
    {
        List<(long, long)> days = [];
        _days.Bind(1, series).Bind(2, from).Bind(3, to);
        while (_days.Row())
        {
            days.Add((_days.Integer(0), _days.Integer(1)));
        }

        return days;
    }

    /// <exception cref="StoreUnavailableException">It is damaged.</exception>
    public SealedRow Load(long id)
    {
        _load.Bind(1, id);
        if (!_load.Row())
        {
            throw new InvalidOperationException("A sealed day is asked for by the id of a row that is there.");
        }

        SealedRow row = new(_load.Integer(0), _load.Integer(1), _load.Blob(2), _load.Blob(3));
        _load.Done();
        return row.IsWhole ? row : throw StoreTrouble.DamagedDay();
    }

    public SealedRow Load(long series, long day)
    {
        _find.Bind(1, series).Bind(2, day);
        if (!_find.Row())
        {
            throw new InvalidOperationException("A sealed day is asked for that is there.");
        }

        long id = _find.Integer(0);
        _find.Done();
        return Load(id);
    }

    public void Put(long series, long day, SealedRow row) => _put.Bind(1, series).Bind(2, day).Bind(3, row.Count).Bind(4, row.Checksum)
        .Bind(5, row.Minutes).Bind(6, row.Readings).Run();

    public void Remove(long series, long day) => _remove.Bind(1, series).Bind(2, day).Run();

    public void Dispose()
    {
        foreach (Statement statement in new[] { _days, _find, _load, _put, _remove })
        {
            statement.Dispose();
        }
    }
}
