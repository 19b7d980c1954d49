using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings.Rollups;

/// <summary>One of the tables <c>minute</c>, <c>hour</c> and <c>day</c>, on the writing connection.</summary>
internal sealed class RollupTable : IDisposable
{
    private readonly Statement _put, _clear, _select;

    public RollupTable(SqliteConnection connection, string name, long span)
    {
        Span = span;
        _put = new Statement(connection, $"INSERT OR REPLACE INTO {name} (series, start, count, sum, least, greatest) VALUES (?1, ?2, ?3, ?4, ?5, ?6)");
        _clear = new Statement(connection, $"DELETE FROM {name} WHERE series = ?1 AND start >= ?2 AND start < ?3");
        _select = new Statement(connection, $"SELECT count, sum, least, greatest FROM {name} WHERE series = ?1 AND start >= ?2 AND start < ?3 ORDER BY start");
    }

    /// <summary>Length of one of its rows, milliseconds.</summary>
    public long Span { get; }

    /// <summary>Makes the row what the sum says; a sum of nothing leaves no row.</summary>
    public void Put(long series, long start, in RollupSum sum)
    {
        if (sum.Count == 0)
        {
            Clear(series, start, start + Span);
        }
        else
        {
            _put.Bind(1, series).Bind(2, start).Bind(3, sum.Count).Bind(4, sum.Total).Bind(5, sum.Least).Bind(6, sum.Greatest).Run();
        }
    }

    public void Clear(long series, long from, long to) => _clear.Bind(1, series).Bind(2, from).Bind(3, to).Run();

    /// <summary>What the rows of [from, to) come to, added in time order.</summary>
    public RollupSum Over(long series, long from, long to)
    {
        RollupSum sum = default;
        _select.Bind(1, series).Bind(2, from).Bind(3, to);
        while (_select.Row())
        {
            sum = sum.With(new RollupSum(_select.Integer(0), _select.Real(1), _select.Real(2), _select.Real(3)));
        }

        return sum;
    }

    public void Dispose()
    {
        _put.Dispose();
        _clear.Dispose();
        _select.Dispose();
    }
}
