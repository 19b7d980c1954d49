using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings.Rollups;

/// <summary>
/// Keeps minutes, hours and days right in the transaction of the readings. An hour is summed up once, from its raw rows, when a reading comes
/// well after its end: until then it is in nobody's table, so a commit writes readings and nothing else, and a crash has nothing to repair.
/// A reading that comes or goes in an hour that was summed up already has its minute counted again from the raw rows, then the hour from its
/// minutes and the day from its hours. Every sum is thus a count of what is there, in time order, whatever the order was in which it came.
/// </summary>
internal sealed class RollupWriter : IDisposable
{
    /// <summary>How long after its end an hour is still left open: probes on a slow network come a little out of order.</summary>
    public const long Slack = 2 * Spans.Minute;

    // Summed up in one go, so that a long history from an older version can't hold up the readings that wait.
    private const int MostRows = 50_000;

    private readonly RollupTable _minute, _hour, _day;
    private readonly Statement _raw, _setRolled;
    private readonly List<SeriesState> _behind = [];
    private readonly HashSet<(long Series, long Start)> _minutes = [], _hours = [], _days = [];

    public RollupWriter(SqliteConnection connection)
    {
        _minute = new RollupTable(connection, "minute", Spans.Minute);
        _hour = new RollupTable(connection, "hour", Spans.Hour);
        _day = new RollupTable(connection, "day", Spans.Day);
        _raw = new Statement(connection, $"""
            SELECT at, value FROM reading WHERE series = ?1 AND at >= ?2 AND at < ?3 AND marks & {(int)Spans.NotGood} = 0 ORDER BY at
            """);
        _setRolled = new Statement(connection, "UPDATE series SET rolled = ?2 WHERE id = ?1");
    }

    /// <summary>A raw row came or went.</summary>
    public void Changed(SeriesState series, long at)
    {
        series.Changed(at);
        if (at < series.Rolled)
        {
            _minutes.Add((series.Id, Spans.StartOf(at, Spans.Minute)));
        }
        else if (at >= series.Rolled + Spans.Hour + Slack && at > series.Newest)
        {
            if (series.Newest == long.MinValue)
            {
                _behind.Add(series);
            }

            series.Newest = at;
        }
    }

    /// <summary>Writes what the transaction changed.</summary>
    public void Flush()
    {
        foreach (SeriesState series in _behind)
        {
            RollTo(series, Spans.StartOf(series.Newest - Slack, Spans.Hour));
            series.Newest = long.MinValue;
        }

        foreach ((long series, long start) in _minutes)
        {
            _minute.Put(series, start, Raw(series, start, start + Spans.Minute));
            _hours.Add((series, Spans.StartOf(start, Spans.Hour)));
        }

        foreach ((long series, long start) in _hours)
        {
            _hour.Put(series, start, _minute.Over(series, start, start + Spans.Hour));
            _days.Add((series, Spans.StartOf(start, Spans.Day)));
        }

        foreach ((long series, long start) in _days)
        {
            _day.Put(series, start, _hour.Over(series, start, start + Spans.Day));
        }

        _behind.Clear();
        _minutes.Clear();
        _hours.Clear();
        _days.Clear();
    }

    /// <summary>
    /// Sums up a series' hours until an hour's start; less far when that is very much at once. <see cref="Flush"/> writes the days.
    /// </summary>
    /// <returns>Whether it came to the end.</returns>
    public bool RollTo(SeriesState series, long end)
    {
        long minute = long.MinValue, hour = long.MinValue;
        RollupSum inMinute = default, inHour = default;
        int rows = 0;
        bool whole = true;
        _raw.Bind(1, series.Id).Bind(2, series.Rolled).Bind(3, end);
        while (_raw.Row())
        {
            long at = _raw.Integer(0);
            if (at - minute >= Spans.Minute || minute == long.MinValue)
            {
                CloseMinute();
                if (at - hour >= Spans.Hour || hour == long.MinValue)
                {
                    CloseHour();
                    hour = Spans.StartOf(at, Spans.Hour);
                    if (rows >= MostRows)
                    {
                        _raw.Done();
                        (end, whole) = (hour, false);
                        break;
                    }
                }

                minute = Spans.StartOf(at, Spans.Minute);
            }

            inMinute = inMinute.With(_raw.Real(1));
            rows++;
        }

        CloseMinute();
        CloseHour();
        if (end > series.Rolled)
        {
            _setRolled.Bind(1, series.Id).Bind(2, end).Run();
            series.Rolled = end;
        }

        return whole;

        void CloseMinute()
        {
            if (inMinute.Count > 0)
            {
                _minute.Put(series.Id, minute, inMinute);
                inHour = inHour.With(inMinute);
                inMinute = default;
            }
        }

        void CloseHour()
        {
            if (inHour.Count > 0)
            {
                _hour.Put(series.Id, hour, inHour);
                _days.Add((series.Id, Spans.StartOf(hour, Spans.Day)));
                inHour = default;
            }
        }
    }

    /// <summary>Puts back a minute of a day that was sealed.</summary>
    public void PutMinute(long series, long start, in RollupSum sum) => _minute.Put(series, start, sum);

    /// <summary>Takes away the minutes of a day that has them elsewhere.</summary>
    public void ClearMinutes(long series, long from, long to) => _minute.Clear(series, from, to);

    /// <summary>Takes away everything that is said of [from, to), whole days.</summary>
    public void ClearAll(long series, long from, long to)
    {
        _minute.Clear(series, from, to);
        _hour.Clear(series, from, to);
        _day.Clear(series, from, to);
    }

    public void Dispose()
    {
        foreach (IDisposable part in new IDisposable[] { _minute, _hour, _day, _raw, _setRolled })
        {
            part.Dispose();
        }
    }

    private RollupSum Raw(long series, long from, long to)
    {
        RollupSum sum = default;
        _raw.Bind(1, series).Bind(2, from).Bind(3, to);
        while (_raw.Row())
        {
            sum = sum.With(_raw.Real(1));
        }

        return sum;
    }
}
