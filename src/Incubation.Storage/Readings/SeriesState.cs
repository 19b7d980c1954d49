namespace Incubation.Storage.Readings;

/// <summary>What a write session remembers of one series: its row, how far it is summed up, and where arrivals went last.</summary>
internal sealed class SeriesState(long id, long rolled)
{
    private long _runFrom, _runTo = -1;

    public long Id => id;

    /// <summary>Start of the first hour that is not summed up.</summary>
    public long Rolled { get; set; } = rolled;

    /// <summary>Newest reading of the transaction that is well past the hour that is open; <see cref="long.MinValue"/> without one.</summary>
    public long Newest { get; set; } = long.MinValue;

    /// <summary>First millisecond that may be free for an arrival: a burst of them in one millisecond then needs no search.</summary>
    public long NextFree(long at) => at >= _runFrom && at <= _runTo ? _runTo + 1 : at;

    public void Took(long at)
    {
        _runFrom = at == _runTo + 1 && _runTo >= _runFrom ? _runFrom : at;
        _runTo = at;
    }
}
