using System.Runtime.InteropServices;
using Incubation.Core.Readings;
using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings;

/// <summary>
/// Keeps the minutes of a transaction: readings are summed up here and written once per minute at its end. A minute out of which a reading
/// was moved is counted again from the raw rows, since a least value can't be taken back.
/// </summary>
internal sealed class MinuteRollups : IDisposable
{
    public const long MinuteMs = 60_000;

    /// <summary>Marks that keep a reading out of the minutes: it is no measurement, or of unknown age.</summary>
    public const ReadingMarks NotGood = ReadingMarks.Faulty | ReadingMarks.Retained;

    private readonly Statement _add, _clear, _recount;
    private readonly Dictionary<(long Series, long Start), Sum> _sums = [];
    private readonly HashSet<(long Series, long Start)> _recounts = [];

    public MinuteRollups(SqliteConnection connection)
    {
        _add = new Statement(connection, """
            INSERT INTO minute (series, start, count, sum, least, greatest) VALUES (?1, ?2, ?3, ?4, ?5, ?6)
            ON CONFLICT DO UPDATE SET count = count + excluded.count, sum = sum + excluded.sum,
                least = min(least, excluded.least), greatest = max(greatest, excluded.greatest)
            """);
        _clear = new Statement(connection, "DELETE FROM minute WHERE series = ?1 AND start = ?2");
        _recount = new Statement(connection, $"""
            INSERT INTO minute (series, start, count, sum, least, greatest)
            SELECT ?1, ?2, count(*), sum(value), min(value), max(value) FROM reading
            WHERE series = ?1 AND at >= ?2 AND at < ?2 + {MinuteMs} AND marks & {(int)NotGood} = 0 HAVING count(*) > 0
            """);
    }

    /// <summary>Start of the minute that holds a time, also before 1970.</summary>
    public static long StartOf(long at) => at - (at % MinuteMs + MinuteMs) % MinuteMs;

    /// <summary>Counts a good reading that was just inserted.</summary>
    public void Add(long series, long at, double value)
    {
        ref Sum sum = ref CollectionsMarshal.GetValueRefOrAddDefault(_sums, (series, StartOf(at)), out bool known);
        sum = known
            ? new Sum(sum.Count + 1, sum.Total + value, Math.Min(sum.Least, value), Math.Max(sum.Greatest, value))
            : new Sum(1, value, value, value);
    }

    /// <summary>Marks a minute whose rows changed otherwise.</summary>
    public void Recount(long series, long at) => _recounts.Add((series, StartOf(at)));

    /// <summary>Writes what the transaction changed.</summary>
    public void Flush()
    {
        foreach (((long series, long start), Sum sum) in _sums)
        {
            if (!_recounts.Contains((series, start)))
            {
                _add.Bind(1, series).Bind(2, start).Bind(3, sum.Count).Bind(4, sum.Total).Bind(5, sum.Least).Bind(6, sum.Greatest).Run();
            }
        }

        foreach ((long series, long start) in _recounts)
        {
            _clear.Bind(1, series).Bind(2, start).Run();
            _recount.Bind(1, series).Bind(2, start).Run();
        }

        _sums.Clear();
        _recounts.Clear();
    }

    public void Dispose()
    {
        _add.Dispose();
        _clear.Dispose();
        _recount.Dispose();
    }

    private readonly record struct Sum(long Count, double Total, double Least, double Greatest);
}
