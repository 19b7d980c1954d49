using System.Collections.Concurrent;
using Incubation.Core.Development;
using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Service.Readings;
using NodaTime;

namespace Incubation.Service.Development;

/// <summary>The points of one series over one day (UTC), as far as they are known. Never changed: a later look is another object.</summary>
/// <param name="Day">Which day.</param>
/// <param name="Until">Up to when this was read.</param>
/// <param name="ReadAt">Steady time at which it was read.</param>
/// <param name="Correction">What they were corrected by.</param>
/// <param name="Points">In time order.</param>
internal sealed record DayPoints(long Day, Instant Until, Instant ReadAt, Correction Correction, TracePoint[] Points);

/// <summary>
/// Days of series, kept in memory so that a clutch's two months are read once. Hears every reading: one that comes late for a day that was
/// read already makes that day be read again, and so does a calibration that changes what its series is corrected by.
/// </summary>
internal sealed class SeriesDays(IReadingHistory store, ICorrections corrections, ServiceClock clock) : IReadingListener
{
    /// <summary>Days kept. A facility of a hundred series and a season fits (about 5 kB each); at the bound all are read anew.</summary>
    private const int MostDays = 20_000;

    // A reading is heard before it is stored; until this long after, what was read may lack it.
    private static readonly Duration UntilStored = Duration.FromSeconds(10);

    // Today is not read again for every look.
    private static readonly Duration Fresh = Duration.FromMinutes(1);

    private readonly ConcurrentDictionary<(SeriesKey Series, long Day), DayPoints> _days = new();
    private readonly ConcurrentDictionary<(SeriesKey Series, long Day), Instant> _late = new();
    private int _lateCount;

    /// <summary>Rises with every reading that came for a time that was read already, and with every change of a calibration.</summary>
    public int LateReadings => Volatile.Read(ref _lateCount) + corrections.Changes;

    public static long DayOf(Instant at) => (long)Math.Floor(at.ToUnixTimeMilliseconds() / 86_400_000.0);

    public static Instant StartOf(long day) => Instant.FromUnixTimeSeconds(day * 86_400);

    public bool TakesImported => true;

    public void Observe(in Reading reading)
    {
        var key = (reading.Series, DayOf(reading.At));
        if (_days.TryGetValue(key, out DayPoints? day) && reading.At < day.Until)
        {
            _late[key] = clock.Steady;
            Interlocked.Increment(ref _lateCount);
        }
    }

    /// <summary>The points of a day, up to now.</summary>
    public DayPoints Of(SeriesKey series, long day, Instant now)
    {
        Instant start = StartOf(day), end = Instant.Min(StartOf(day + 1), now);
        Instant steady = clock.Steady;
        // Asked for before anything is read: when it changes meanwhile, the next look sees that and reads again.
        Correction correction = corrections.Of(series);
        bool known = _days.TryGetValue((series, day), out DayPoints? kept) && ReferenceEquals(kept.Correction, correction);
        bool late = _late.TryGetValue((series, day), out Instant heard) && !(kept?.ReadAt > heard + UntilStored);
        if (known && !late && (kept!.Until >= end || (end == now && now - kept.Until < Fresh)))
        {
            return kept;
        }

        // What lies before the last whole step was read for good.
        Instant from = known && !late && kept!.Until < end ? DayReader.StepOf(kept.Until) : start;
        TracePoint[] before = from > start ? [.. kept!.Points.TakeWhile(point => point.At < from)] : [];
        DayPoints read = new(day, end, steady, correction, end > from ? [.. before, .. DayReader.Read(store, series, from, end)] : before);
        if (_days.Count >= MostDays)
        {
            _days.Clear();
            _late.Clear();
        }

        _days[(series, day)] = read;
        return read;
    }

    /// <summary>Good readings as they are, for the few minutes at which a stay begins or ends.</summary>
    public IEnumerable<TracePoint> Raw(SeriesKey series, Instant from, Instant until) => DayReader.Raw(store, series, from, until);
}
