using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>Where a payload comes from.</summary>
/// <param name="Probe">The probe's name from the topic. A SenML pack may speak for others.</param>
/// <param name="Quantity">What the topic says was measured; null when the template has no <c>{quantity}</c>.</param>
/// <param name="ArrivedAt">When the message arrived.</param>
/// <param name="Kept">Whether a broker had kept it (RETAIN on a subscription), so that nobody knows how old it is.</param>
public readonly record struct PayloadSource(string Probe, Quantity? Quantity, Instant ArrivedAt, bool Kept = false);

/// <summary>What is remembered of every series between messages.</summary>
public interface ISeriesMemory
{
    /// <summary>The last good value of a series, or null when none was ever heard.</summary>
    ReadingMemory? Recall(in SeriesKey series);
}
