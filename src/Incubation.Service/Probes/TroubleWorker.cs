using Incubation.Core.Readings;
using Incubation.Service.Facility;
using Incubation.Service.Hosting;
using NodaTime;

namespace Incubation.Service.Probes;

/// <summary>Recalls what was known of each probe before the start, a series at a time, and judges all of them once a minute.</summary>
internal sealed class TroubleWorker(
    WorkerSupport support, TroubleWatch watch, IReadingHistory history, ICorrections corrections, ServiceClock clock)
    : SupervisedWorker(support, "trouble in probes", TimeSpan.FromMinutes(5))
{
    private static readonly TimeSpan Every = TimeSpan.FromMinutes(1);
    private static readonly Duration Recent = Duration.FromHours(26), Week = Duration.FromDays(8), Sample = Duration.FromHours(20);

    // Readings read for one series: a probe that sends each second is known by its last hours only.
    private const int MostReadings = 25_000;

    private readonly Lock _oneLook = new();

    protected override async Task RunAsync(CancellationToken stop)
    {
        while (true)
        {
            Look();
            Progress();
            await Task.Delay(Every, Time, stop);
        }
    }

    /// <summary>One look: recalls what is missing, then judges.</summary>
    internal void Look()
    {
        lock (_oneLook)
        {
            LookOnce();
        }
    }

    private void LookOnce()
    {
        Instant now = clock.Wall;
        IReadOnlyList<(SeriesKey Series, PlacedProbe Place)> missing = watch.ToRecall();
        if (missing.Count > 0)
        {
            watch.ForgetPasts();
        }

        foreach ((SeriesKey series, PlacedProbe place) in missing)
        {
            Correction correction = corrections.Of(series);
            watch.Take(Recall(history, series, Instant.Max(place.From, now - Week), now), place, correction);
            Progress();
        }

        watch.Judge(now);
    }

    /// <summary>A day of a week ago, the hours since, and the last day: enough for "then" and "now".</summary>
    internal static TroubleTrack Recall(IReadingHistory history, SeriesKey series, Instant from, Instant now)
    {
        var track = new TroubleTrack(series);
        Instant hour = TroubleTrack.HourOf(from);
        int hours = (int)Math.Ceiling((now - hour).TotalHours);
        if (hours <= 0)
        {
            return track;
        }

        ReadingBuckets sums = history.Buckets(series, hour, hour + Duration.FromHours(hours), hours);
        Instant recent = Instant.Max(from, now - Recent);
        ReadingBuckets last = history.Buckets(series, recent, now + Duration.FromMilliseconds(1), 1);
        int count = last.Count.Sum();
        if (count > MostReadings)
        {
            recent = now - ((now - recent) * ((double)MostReadings / count));
        }
        else if (from < recent)
        {
            Add(from, Instant.Min(from + Sample, recent));
        }

        for (int i = 0; i < sums.StartMs.Count; i++)
        {
            Instant start = Instant.FromUnixTimeMilliseconds(sums.StartMs[i]);
            if (start + Duration.FromHours(1) <= recent && start >= from)
            {
                track.Recall(start, sums.Mean[i], sums.Min[i], sums.Max[i]);
            }
        }

        Add(recent, now + Duration.FromMinutes(5));
        return track;

        void Add(Instant start, Instant end)
        {
            foreach (Reading reading in history.Read(series, start, end))
            {
                track.Add(reading);
            }
        }
    }
}
