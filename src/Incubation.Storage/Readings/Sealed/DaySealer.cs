using Incubation.Storage.Readings.Rollups;
using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings.Sealed;

/// <summary>
/// The writer's half of sealing: within a transaction raw rows become a sealed day, or a sealed day becomes raw rows again because a reading
/// came late for it. Either way the hours and the day in the rollup tables stay as they are.
/// </summary>
internal sealed class DaySealer : IDisposable
{
    private readonly SealedTable _table;
    private readonly RollupWriter _rollups;
    private readonly Statement _insert, _clear;

    // The sealed day that was looked into last: a probe that sends old readings again sends many of one day.
    private (long Series, long Day, StoredRow[] Rows) _recalled = (0, 0, []);

    public DaySealer(SqliteConnection connection, RollupWriter rollups)
    {
        _table = new SealedTable(connection);
        _rollups = rollups;
        _insert = new Statement(connection, "INSERT INTO reading (series, at, value, arrived, marks) VALUES (?1, ?2, ?3, ?4, ?5)");
        _clear = new Statement(connection, "DELETE FROM reading WHERE series = ?1 AND at >= ?2 AND at < ?3");
    }

    /// <summary>Days of a series that are sealed.</summary>
    public HashSet<long> Days(long series) => [.. _table.Days(series, long.MinValue, long.MaxValue).Select(day => day.Day)];

    /// <summary>
    /// From now on it is noticed when something of the day changes, so that it can be packed on another thread meanwhile. Sums the day up first.
    /// </summary>
    /// <returns>Whether the day may be packed now; otherwise ask again.</returns>
    public bool Watch(SeriesState series, long day)
    {
        if (series.Rolled < day + Spans.Day && !_rollups.RollTo(series, day + Spans.Day))
        {
            return false;
        }

        series.Watch(day, day + Spans.Day);
        return true;
    }

    /// <summary>Puts the packed day in the place of its raw rows, unless one of them changed since <see cref="Watch"/>.</summary>
    public bool Seal(SeriesState series, long day, SealedRow row)
    {
        if (!series.IsUnchanged(day))
        {
            return false;
        }

        _table.Put(series.Id, day, row);
        _clear.Bind(1, series.Id).Bind(2, day).Bind(3, day + Spans.Day).Run();
        _rollups.ClearMinutes(series.Id, day, day + Spans.Day);
        series.Sealed.Add(day);
        series.Watch(long.MaxValue, long.MaxValue);
        return true;
    }

    /// <summary>Deletes everything of a day.</summary>
    public void Drop(SeriesState series, long day)
    {
        _table.Remove(series.Id, day);
        series.Sealed.Remove(day);
        _clear.Bind(1, series.Id).Bind(2, day).Bind(3, day + Spans.Day).Run();
        _rollups.ClearAll(series.Id, day, day + Spans.Day);
        series.Changed(day);
        _recalled = (0, 0, []);
    }

    /// <summary>Lays a sealed day's readings and minutes out again.</summary>
    public void Reopen(SeriesState series, long day)
    {
        SealedRow row = _table.Load(series.Id, day);
        SealedReadings readings = new(row.Readings);
        foreach (StoredRow reading in readings.Rows())
        {
            _insert.Bind(1, series.Id).Bind(2, reading.At).Bind(3, reading.Value).Bind(4, reading.Arrived).Bind(5, (long)reading.Marks).Run();
        }

        DayMinutes minutes = MinuteColumns.Unpack(day, row.Minutes, () => readings);
        for (int i = 0; i < minutes.Minutes.Length; i++)
        {
            _rollups.PutMinute(series.Id, day + minutes.Minutes[i] * Spans.Minute, minutes.Sums[i]);
        }

        _table.Remove(series.Id, day);
        series.Sealed.Remove(day);
        _recalled = (0, 0, []);
    }

    /// <summary>The reading of a sealed day at exactly that time, or null.</summary>
    public StoredRow? Find(SeriesState series, long day, long at)
    {
        if (_recalled.Series != series.Id || _recalled.Day != day)
        {
            _recalled = (series.Id, day, new SealedReadings(_table.Load(series.Id, day).Readings).Rows());
        }

        StoredRow[] rows = _recalled.Rows;
        int low = 0, high = rows.Length;
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = rows[middle].At < at ? (middle + 1, high) : (low, middle);
        }

        return low < rows.Length && rows[low].At == at ? rows[low] : null;
    }

    public void Dispose()
    {
        _table.Dispose();
        _insert.Dispose();
        _clear.Dispose();
    }
}
