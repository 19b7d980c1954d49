using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>Days whose readings are never deleted, however long ago they were: a clutch's history stays whole.</summary>
public interface IKeptDays
{
    /// <summary>Whether something of [<paramref name="from"/>, <paramref name="to"/>) of that series is to be kept for good.</summary>
    bool MustKeep(SeriesKey series, Instant from, Instant to);
}
