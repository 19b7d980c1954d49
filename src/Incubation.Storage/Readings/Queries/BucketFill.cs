using Incubation.Storage.Readings.Rollups;
using Incubation.Storage.Readings.Sealed;

namespace Incubation.Storage.Readings.Queries;

/// <summary>
/// Fills buckets from the coarsest sums that fit: a day, hour or minute that lies in one bucket and one piece of the correction is added whole;
/// one that an edge cuts is made again from what is finer, down to the readings. So any edges give what a count of the readings gives.
/// </summary>
internal sealed class BucketFill
{
    // Below so many units to a bucket most of them are cut, and asking for them costs more than it saves.
    private const int WorthIt = 4;

    private readonly SeriesView _series;
    private readonly BucketSums _sums;
    private readonly List<(long Day, long Id)> _sealed;

    private BucketFill(SeriesView series, BucketSums sums)
    {
        (_series, _sums) = (series, sums);
        _sealed = series.SealedDays(sums.From, sums.To);
    }

    public static void Run(SeriesView series, BucketSums sums)
    {
        BucketFill fill = new(series, sums);
        if (sums.WidthMs >= WorthIt * Spans.Day)
        {
            fill.Days();
        }
        else if (sums.WidthMs >= WorthIt * Spans.Hour)
        {
            fill.Hours(sums.From, sums.To);
        }
        else
        {
            fill.Finer(sums.From, sums.To, minutes: sums.WidthMs >= 2 * Spans.Minute);
        }
    }

    private void Days()
    {
        long whole = Spans.StartOf(_series.Rolled, Spans.Day);
        Units("day", Spans.Day, _sums.From, Math.Min(_sums.To, whole), Hours);
        if (whole < _sums.To)
        {
            Hours(Math.Max(whole, _sums.From), _sums.To);
        }
    }

    private void Hours(long from, long to)
    {
        long rolled = Math.Clamp(_series.Rolled, from, to);
        Units("hour", Spans.Hour, from, rolled, (a, b) => Finer(a, b, minutes: true));
        _series.RawInto(rolled, to, _sums);
    }

    private void Units(string table, long span, long from, long to, Action<long, long> cut)
    {
        if (from >= to)
        {
            return;
        }

        foreach ((long start, RollupSum sum) in _series.Rollups(table, Spans.StartOf(from, span), to))
        {
            if (start >= from && start + span <= to && start + span <= _sums.EndOf(start))
            {
                _sums.Add(start, sum);
            }
            else
            {
                cut(Math.Max(start, from), Math.Min(start + span, to));
            }
        }
    }

    /// <summary>Day by day: sealed ones from their columns, the others from rows.</summary>
    private void Finer(long from, long to, bool minutes)
    {
        int next = _sealed.FindIndex(day => day.Day + Spans.Day > from);
        for (long at = from; at < to;)
        {
            (long Day, long Id) day = next >= 0 && next < _sealed.Count ? _sealed[next] : (to, 0);
            if (day.Day > at)
            {
                long until = Math.Min(day.Day, to);
                FromRows(at, until, minutes);
                at = until;
            }
            else
            {
                long until = Math.Min(day.Day + Spans.Day, to);
                FromColumns(day, at, until, minutes);
                (at, next) = (until, next + 1);
            }
        }
    }

    private void FromRows(long from, long to, bool minutes)
    {
        long rolled = minutes ? Math.Clamp(_series.Rolled, from, to) : from;
        Units("minute", Spans.Minute, from, rolled, (a, b) => _series.RawInto(a, b, _sums));
        _series.RawInto(rolled, to, _sums);
    }

    private void FromColumns((long Day, long Id) day, long from, long to, bool minutes)
    {
        if (!minutes)
        {
            _series.Good(day, from, to, _sums.Add);
            return;
        }

        DayMinutes sums = _series.Minutes(day);
        for (long at = from; at < to;)
        {
            long end = Math.Min(_sums.EndOf(at), to);
            long first = Spans.StartOf(at + Spans.Minute - 1, Spans.Minute), last = Spans.StartOf(end, Spans.Minute);
            if (first > last)
            {
                _series.Good(day, at, end, _sums.Add);
            }
            else
            {
                Cut(day, sums, at, first);
                RollupSum sum = default;
                for (int i = sums.PlaceOf(first), past = sums.PlaceOf(last); i < past; i++)
                {
                    sum = sum.With(sums.Sums[i]);
                }

                if (sum.Count > 0)
                {
                    _sums.Add(at, sum);
                }

                Cut(day, sums, last, end);
            }

            at = end;
        }
    }

    // A part of a minute, if that minute has any reading.
    private void Cut((long Day, long Id) day, DayMinutes sums, long from, long to)
    {
        long minute = Spans.StartOf(from, Spans.Minute);
        int place = sums.PlaceOf(minute);
        if (from < to && place < sums.Minutes.Length && sums.Day + sums.Minutes[place] * Spans.Minute == minute)
        {
            _series.Good(day, from, to, _sums.Add);
        }
    }
}
