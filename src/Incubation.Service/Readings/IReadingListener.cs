using Incubation.Core.Readings;

namespace Incubation.Service.Readings;

/// <summary>Hears every reading on entry, before it is stored. Must be quick, must not block and must not throw.</summary>
internal interface IReadingListener
{
    void Observe(in Reading reading);

    /// <summary>Whether it is handed readings as measured, because it corrects them itself each time it is asked.</summary>
    bool TakesMeasured => false;

    /// <summary>Whether it is told, after they are stored, of readings that are brought in from a file: they change the past and say nothing of now.</summary>
    bool TakesImported => false;
}

/// <summary>The newest readings in memory: what the first screen shows.</summary>
internal interface ILatestReadings
{
    /// <summary>The newest reading of a series, good or not, or null when none was ever heard.</summary>
    Reading? Latest(SeriesKey series);

    /// <summary>The newest good reading of a series, or null.</summary>
    Reading? LatestGood(SeriesKey series);

    /// <summary>Every series ever heard.</summary>
    IReadOnlyCollection<SeriesKey> Series { get; }

    /// <summary>Good readings of the last hour, thinned to at most 60, oldest first.</summary>
    IReadOnlyList<Reading> LastHour(SeriesKey series);
}
