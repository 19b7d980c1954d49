using Incubation.Service.Hosting;
using NodaTime;

namespace Incubation.Service.Live;

/// <summary>What a page hears every 15 s, so that a dead connection is not taken for a quiet night.</summary>
internal sealed record LiveBeat(Instant At);

/// <summary>Sends the heartbeat to every open page.</summary>
internal sealed class LiveHeartbeat(WorkerSupport support, LiveFeed feed, ServiceClock clock)
    : SupervisedWorker(support, "live feed", stallsAfter: TimeSpan.FromMinutes(1))
{
    private static readonly TimeSpan Every = TimeSpan.FromSeconds(15);

    protected override async Task RunAsync(CancellationToken stop)
    {
        using PeriodicTimer timer = new(Every, Time);
        while (await timer.WaitForNextTickAsync(stop))
        {
            Progress();
            feed.Publish("heartbeat", new LiveBeat(clock.Wall));
        }
    }
}
