using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>Gathers the values of one payload, then judges them and makes readings of them. Takes one array from the heap when it is one value.</summary>
internal ref struct PayloadSink
{
    private readonly PayloadSource _source;
    private readonly ISeriesMemory _memory;
    private readonly Instant _arrivedAt;
    private Item _first;
    private List<Item>? _more;
    private int _count;
    private bool _tooMany;
    private string? _leftOut;

    public PayloadSink(in PayloadSource source, ISeriesMemory memory)
    {
        (_source, _memory) = (source, memory);
        _arrivedAt = Instant.FromUnixTimeMilliseconds(source.ArrivedAt.ToUnixTimeMilliseconds());
    }

    public readonly PayloadSource Source => _source;

    public readonly bool IsEmpty => _count == 0;

    /// <summary>Notes why a part is not used; the first reason is the one that is told.</summary>
    public void LeaveOut(string reason) => _leftOut ??= reason;

    /// <summary>Takes a value, converted to the unit it is held in, or leaves it out with the reason.</summary>
    /// <returns>False when the payload has a value of the same series and <paramref name="once"/> was asked for.</returns>
    public bool Add(string probe, Quantity quantity, ReadOnlySpan<byte> unit, double value, SentTime time = default, bool once = false)
    {
        if (!double.IsFinite(value))
        {
            LeaveOut(Rejections.NotFinite);
            return true;
        }

        if (!Units.TryConvert(ref quantity, unit, value, out double held))
        {
            LeaveOut(Rejections.UnknownUnit(quantity));
            return true;
        }

        SeriesKey series = new(probe, quantity);
        if (once && Has(series))
        {
            return false;
        }

        if (_count == 0)
        {
            _first = new Item(series, held, time);
        }
        else if (_count < Limits.ReadingsPerMessage)
        {
            (_more ??= []).Add(new Item(series, held, time));
        }
        else
        {
            _tooMany = true;
            return true;
        }

        _count++;
        return true;
    }

    /// <summary>Gives all values so far the one time of their object.</summary>
    public void AllAt(SentTime time)
    {
        _first = _first with { Time = time };
        for (int i = 0; i < _count - 1; i++)
        {
            _more![i] = _more[i] with { Time = time };
        }
    }

    /// <summary>Judges what was gathered.</summary>
    /// <param name="nothing">The reason when nothing was gathered and nothing left out.</param>
    public PayloadResult Finish(string nothing)
    {
        if (_tooMany)
        {
            return PayloadResult.Rejected(Rejections.TooMany);
        }

        if (_count == 0)
        {
            return PayloadResult.Rejected(_leftOut ?? nothing);
        }

        Reading[]? readings = null;
        Dictionary<SeriesKey, ReadingMemory>? earlier = _count > 1 ? [] : null;
        int taken = 0;
        bool saysTime = false;
        Instant? newest = null;
        for (int i = 0; i < _count; i++)
        {
            Item item = i == 0 ? _first : _more![i - 1];
            ReadingMemory? previous = earlier is not null && earlier.TryGetValue(item.Series, out ReadingMemory here) ? here : _memory.Recall(item.Series);
            ValueVerdict verdict = ReadingJudge.Judge(item.Series.Quantity, item.Held, previous);
            if (verdict is ValueVerdict.TooLow or ValueVerdict.TooHigh)
            {
                LeaveOut(Rejections.Implausible(item.Series.Quantity, low: verdict == ValueVerdict.TooLow));
                continue;
            }

            saysTime |= item.Time.Kind is SentTimeKind.Moment or SentTimeKind.Unreadable;
            if (item.Time.Kind == SentTimeKind.Moment && !(item.Time.At <= newest))
            {
                newest = item.Time.At;
            }

            readings ??= new Reading[_count - i];
            ref Reading reading = ref readings[taken++];
            reading = Reading(item, verdict);
            if (earlier is not null && reading.IsGood)
            {
                earlier[reading.Series] = new ReadingMemory(reading.Value, reading.At);
            }
        }

        if (readings is null)
        {
            return PayloadResult.Rejected(_leftOut!);
        }

        if (taken > 1)
        {
            readings.AsSpan(0, taken).Sort(static (a, b) => a.At.CompareTo(b.At));
        }

        Duration? clockOff = newest is { } sent && !ProbeClock.Believes(sent, _arrivedAt) ? sent - _arrivedAt : null;
        return PayloadResult.Of(readings.AsMemory(0, taken), _leftOut, saysTime, newest, clockOff);
    }

    private readonly Reading Reading(in Item item, ValueVerdict verdict)
    {
        ReadingMarks marks = verdict switch
        {
            ValueVerdict.Saturated => ReadingMarks.Saturated,
            ValueVerdict.Faulty => ReadingMarks.Faulty,
            _ => ReadingMarks.None,
        };
        if (_source.Kept)
        {
            marks |= ReadingMarks.Retained;
        }

        if (item.Time.Kind == SentTimeKind.None)
        {
            return new Reading(item.Series, item.Held, _arrivedAt, _arrivedAt, marks | ReadingMarks.ArrivalTime);
        }

        bool believed = item.Time.Kind != SentTimeKind.Unreadable && ProbeClock.Believes(item.Time.At, _arrivedAt);
        marks |= !believed ? ReadingMarks.ClockOff : item.Time.Kind == SentTimeKind.Ago ? ReadingMarks.ArrivalTime : ReadingMarks.None;
        return new Reading(item.Series, item.Held, believed ? item.Time.At : _arrivedAt, _arrivedAt, marks);
    }

    private readonly bool Has(in SeriesKey series)
    {
        if (_count > 0 && _first.Series == series)
        {
            return true;
        }

        for (int i = 0; i < _count - 1; i++)
        {
            if (_more![i].Series == series)
            {
                return true;
            }
        }

        return false;
    }

    private readonly record struct Item(SeriesKey Series, double Held, SentTime Time);
}
