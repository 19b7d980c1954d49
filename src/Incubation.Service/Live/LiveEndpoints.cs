using System.Net.ServerSentEvents;
using System.Runtime.CompilerServices;
using Incubation.Service.Hosting;
using Incubation.Service.Http;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Live;

/// <summary>The server-sent events. They are hints to look again; the truth is what GET answers.</summary>
internal static class LiveEndpoints
{
    // Who may listen is checked when a feed opens; a feed that ends now and then is checked again.
    private static readonly TimeSpan LongestFeed = TimeSpan.FromMinutes(20);

    public static void Map(RouteGroupBuilder api)
        => api.MapGet("/events", Listen).WithName("listen").WithTags("Live")
            .WithSummary("Server-sent events: hello, heartbeat, reading, alarms, facility, resync.")
            .ProducesProblem(StatusCodes.Status503ServiceUnavailable);

    private static Results<ServerSentEventsResult<string>, ProblemHttpResult> Listen(
        HttpContext http, LiveFeed feed, ServiceClock clock, IHostApplicationLifetime lifetime)
    {
        LiveSubscription? subscription = feed.Join();
        if (subscription is null)
        {
            http.Response.Headers.RetryAfter = "30";
            return Problems.Plain(
                StatusCodes.Status503ServiceUnavailable, "Too many pages are open at once. Close some; this one tries again by itself.");
        }

        http.Response.RegisterForDispose(subscription);
        // Proxies that buffer would hold events back until it is too late to act.
        http.Response.Headers["X-Accel-Buffering"] = "no";
        bool again = http.Request.Headers.ContainsKey("Last-Event-ID");
        return TypedResults.ServerSentEvents(Events(feed, subscription, clock, again, lifetime.ApplicationStopping, http.RequestAborted));
    }

    private static async IAsyncEnumerable<SseItem<string>> Events(
        LiveFeed feed, LiveSubscription subscription, ServiceClock clock, bool again, CancellationToken stopping,
        CancellationToken aborted, [EnumeratorCancellation] CancellationToken cancellationToken = default)
    {
        using CancellationTokenSource enough = new(LongestFeed, clock.Provider);
        using CancellationTokenSource end = CancellationTokenSource.CreateLinkedTokenSource(
            enough.Token, stopping, aborted, cancellationToken);
        // The first event makes the headers go out; a page that only waits would never see the feed open.
        yield return feed.Item("hello", new LiveBeat(clock.Wall));
        if (again)
        {
            yield return feed.Item("resync", new { });
        }

        while (await subscription.NextAsync(end.Token) is { } item)
        {
            yield return item;
        }
    }
}
