using Incubation.Service.Hosting;
using NodaTime;

namespace Incubation.Service.Live;

/// <summary>What a page hears every 15 s, so that a dead connection is not taken for a quiet night.</summary>
internal sealed record LiveBeat(Instant At);

/// <summary>Sends the heartbeat to every open page.</summary>
internal sealed class LiveHeartbeat(LiveFeed feed, ServiceClock clock) : BackgroundService
{
    private static readonly TimeSpan Every = TimeSpan.FromSeconds(15);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using PeriodicTimer timer = new(Every, clock.Provider);
        while (await timer.WaitForNextTickAsync(stoppingToken))
        {
            feed.Publish("heartbeat", new LiveBeat(clock.Wall));
        }
    }
}
