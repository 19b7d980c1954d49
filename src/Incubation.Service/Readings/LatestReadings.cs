using System.Collections.Concurrent;
using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>
/// The newest readings of every series, in memory. As many as there are probes, which are bounded. Kept as measured and corrected when asked
/// for, so that a calibration shows at once.
/// </summary>
internal sealed class LatestReadings(ServiceClock clock, ICorrections corrections) : ILatestReadings, IReadingListener
{
    private static readonly Duration Hour = Duration.FromHours(1);

    private readonly ConcurrentDictionary<SeriesKey, SeriesMemory> _series = new();

    public IReadOnlyCollection<SeriesKey> Series => (IReadOnlyCollection<SeriesKey>)_series.Keys;

    public bool TakesMeasured => true;

    public void Observe(in Reading reading) => Of(reading.Series).Add(reading, clock.Steady);

    public Reading? Latest(SeriesKey series) => Corrected(LatestMeasured(series));

    public Reading? LatestGood(SeriesKey series) => Corrected(LatestGoodMeasured(series));

    /// <summary>The newest reading of a series as the probe said it.</summary>
    public Reading? LatestMeasured(SeriesKey series) => _series.TryGetValue(series, out SeriesMemory? memory) ? memory.Latest : null;

    /// <summary>The newest good reading of a series as the probe said it.</summary>
    public Reading? LatestGoodMeasured(SeriesKey series) => _series.TryGetValue(series, out SeriesMemory? memory) ? memory.LatestGood : null;

    /// <summary>Steady time of the newest good reading of a series, or null when none was ever heard.</summary>
    public Instant? GoodHeardAt(SeriesKey series) => _series.TryGetValue(series, out SeriesMemory? memory) ? memory.GoodHeardAt : null;

    public IReadOnlyList<Reading> LastHour(SeriesKey series)
    {
        if (!_series.TryGetValue(series, out SeriesMemory? memory))
        {
            return [];
        }

        IReadOnlyList<Reading> measured = memory.Since(clock.Wall - Hour);
        Correction correction = corrections.Of(series);
        return correction.IsNone ? measured : [.. measured.Select(reading => CorrectedHistory.Correct(reading, correction))];
    }

    /// <summary>Fills the memory from what is stored; called once before the first reading may arrive.</summary>
    public void Load(IReadingStore store)
    {
        Instant now = clock.Wall, steady = clock.Steady;
        foreach (Reading newest in store.Latest())
        {
            foreach (Reading reading in store.Read(newest.Series, now - Hour, now + Hour))
            {
                Add(reading);
            }

            Add(IsImported(newest) ? LastHeard(store, newest) : newest);
        }

        // What was stored arrived some time ago; what was brought in from a file was never heard.
        void Add(in Reading? stored)
        {
            if (stored is { } reading && !IsImported(reading))
            {
                Of(reading.Series).Add(reading, steady - Duration.Max(now - reading.ArrivedAt, Duration.Zero));
            }
        }
    }

    private static bool IsImported(in Reading reading) => (reading.Marks & ReadingMarks.Imported) != 0;

    // A file may reach beyond the last thing that its probe said. A week before that is looked through; who was silent for longer is unknown.
    private static Reading? LastHeard(IReadingStore store, Reading newest)
    {
        for (int day = 0; day < 7; day++)
        {
            Instant to = newest.At - Duration.FromDays(day);
            foreach (Reading reading in store.Read(newest.Series, to - Duration.FromDays(1), to).Reverse())
            {
                if (!IsImported(reading))
                {
                    return reading;
                }
            }
        }

        return null;
    }

    private Reading? Corrected(Reading? measured)
        => measured is { } reading ? CorrectedHistory.Correct(reading, corrections.Of(reading.Series)) : null;

    private SeriesMemory Of(SeriesKey series) => _series.GetOrAdd(series, static _ => new SeriesMemory());
}
