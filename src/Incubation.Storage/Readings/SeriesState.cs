namespace Incubation.Storage.Readings;

/// <summary>What a write session remembers of one series: its row, how far it is summed up, which days are sealed, and where arrivals went last.</summary>
internal sealed class SeriesState(long id, long rolled, HashSet<long> sealedDays)
{
    private long _runFrom, _runTo = -1, _watchFrom = long.MaxValue, _watchTo = long.MaxValue;
    private bool _changed;

    public long Id => id;

    /// <summary>Start of the first hour that is not summed up. No sealed day ends after it.</summary>
    public long Rolled { get; set; } = rolled;

    /// <summary>Newest reading of the transaction that is well past the hour that is open; <see cref="long.MinValue"/> without one.</summary>
    public long Newest { get; set; } = long.MinValue;

    /// <summary>Starts of the days that are sealed.</summary>
    public HashSet<long> Sealed => sealedDays;

    /// <summary>First millisecond that may be free for an arrival: a burst of them in one millisecond then needs no search.</summary>
    public long NextFree(long at) => at >= _runFrom && at <= _runTo ? _runTo + 1 : at;

    public void Took(long at)
    {
        _runFrom = at == _runTo + 1 && _runTo >= _runFrom ? _runFrom : at;
        _runTo = at;
    }

    /// <summary>Notices changes of [from, to) from now on.</summary>
    public void Watch(long from, long to) => (_watchFrom, _watchTo, _changed) = (from, to, false);

    /// <summary>A row came, went or changed.</summary>
    public void Changed(long at) => _changed |= at >= _watchFrom && at < _watchTo;

    /// <summary>Whether that day was watched all the time and nothing of it changed.</summary>
    public bool IsUnchanged(long day) => _watchFrom == day && !_changed;
}
