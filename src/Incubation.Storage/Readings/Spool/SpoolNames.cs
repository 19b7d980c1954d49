using Incubation.Core.Readings;

namespace Incubation.Storage.Readings.Spool;

/// <summary>Series by the numbers that the frames since the spool was last empty gave them, in the order of their first reading.</summary>
internal sealed class SpoolNames
{
    private readonly List<SeriesKey> _names = [];
    private readonly Dictionary<SeriesKey, int> _numbers = [];

    public int Count => _names.Count;

    /// <exception cref="InvalidDataException">No frame has named that number.</exception>
    public SeriesKey this[int number] => number >= 0 && number < _names.Count
        ? _names[number]
        : throw new InvalidDataException("The spool file speaks of a series that it has not named.");

    public int NumberOf(SeriesKey series, out bool isNew)
    {
        isNew = !_numbers.TryGetValue(series, out int number);
        if (isNew)
        {
            number = _names.Count;
            Add(series);
        }

        return number;
    }

    public void Add(SeriesKey series)
    {
        _numbers[series] = _names.Count;
        _names.Add(series);
    }

    /// <summary>Takes back names whose frame did not come onto the disk.</summary>
    public void CutTo(int count)
    {
        for (int number = _names.Count - 1; number >= count; number--)
        {
            _numbers.Remove(_names[number]);
            _names.RemoveAt(number);
        }
    }
}
