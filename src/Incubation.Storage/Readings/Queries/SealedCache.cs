using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Storage.Readings.Sealed;

namespace Incubation.Storage.Readings.Queries;

/// <summary>
/// Sealed days that were looked at lately. A row never changes and its id is never used again, so what is kept under it stays true: a day that
/// was reopened and sealed again is another row.
/// </summary>
internal sealed class SealedCache
{
    private readonly BoundedCache<DayMinutes> _minutes = new(Limits.SealedMinutesKeptBytes);
    private readonly BoundedCache<SealedReadings> _readings = new(Limits.SealedReadingsKeptBytes);

    /// <exception cref="StoreUnavailableException">The day is damaged.</exception>
    public DayMinutes Minutes(SealedTable table, long day, long id)
    {
        if (_minutes.TryGet(id, out DayMinutes? known))
        {
            return known;
        }

        SealedRow row = table.Load(id);
        DayMinutes minutes = Checked(() => MinuteColumns.Unpack(day, row.Minutes, () => new SealedReadings(row.Readings)));
        _minutes.Put(id, minutes, minutes.Bytes);
        if (!_readings.TryGet(id, out _))
        {
            Keep(id, row);
        }

        return minutes;
    }

    /// <exception cref="StoreUnavailableException">The day is damaged.</exception>
    public SealedReadings Readings(SealedTable table, long id) => _readings.TryGet(id, out SealedReadings? known) ? known : Keep(id, table.Load(id));

    private SealedReadings Keep(long id, SealedRow row)
    {
        SealedReadings readings = Checked(() => new SealedReadings(row.Readings));
        _readings.Put(id, readings, readings.Bytes);
        return readings;
    }

    private static T Checked<T>(Func<T> read)
    {
        try
        {
            return read();
        }
        catch (InvalidDataException)
        {
            throw StoreTrouble.DamagedDay();
        }
    }
}
