using System.Collections.Concurrent;
using Incubation.Core.Readings;
using Incubation.Service.Facility;
using Incubation.Service.Hosting;
using Incubation.Service.Readings;
using NodaTime;

namespace Incubation.Service.Live;

/// <summary>A reading as an open page hears it.</summary>
internal sealed record LiveReading(string Probe, string? Incubator, string Quantity, double Value, Instant At, string Quality);

/// <summary>Passes readings on to open pages, at most one per series and second: no eye follows more.</summary>
internal sealed class LiveReadings(LiveFeed feed, IFacility facility, ServiceClock clock) : IReadingListener
{
    private static readonly TimeSpan LeastApart = TimeSpan.FromSeconds(1);

    private readonly ConcurrentDictionary<SeriesKey, long> _sentAt = new();

    public void Observe(in Reading reading)
    {
        if (!feed.HasListeners)
        {
            return;
        }

        long now = clock.Provider.GetTimestamp();
        if (_sentAt.TryGetValue(reading.Series, out long last) && clock.Provider.GetElapsedTime(last, now) < LeastApart)
        {
            return;
        }

        _sentAt[reading.Series] = now;
        facility.Current.Placements.TryGetValue(reading.Series.Probe, out PlacedProbe? placed);
        feed.Publish("reading", new LiveReading(
            reading.Series.Probe, placed?.Incubator, reading.Series.Quantity.Name, reading.Value, reading.At,
            reading.IsGood ? "good" : "faulty"));
    }
}
