using System.Net.ServerSentEvents;
using System.Threading.Channels;
using Incubation.Core;

namespace Incubation.Service.Live;

/// <summary>
/// One open page. What it does not fetch in time is dropped, oldest first, and it is told <c>resync</c> before anything newer, so that
/// it knows that it missed something.
/// </summary>
internal sealed class LiveSubscription : IDisposable
{
    private static readonly SseItem<string> Resync = new("{}", "resync");

    private readonly LiveFeed _feed;
    private readonly Channel<SseItem<string>> _waiting;
    private int _missed;

    internal LiveSubscription(LiveFeed feed)
    {
        _feed = feed;
        _waiting = Channel.CreateBounded<SseItem<string>>(
            new BoundedChannelOptions(Limits.LiveFeedQueue) { FullMode = BoundedChannelFullMode.DropOldest, SingleReader = true },
            _ => Interlocked.Exchange(ref _missed, 1));
    }

    internal void Offer(in SseItem<string> item) => _waiting.Writer.TryWrite(item);

    /// <summary>The next event; null when the feed has ended.</summary>
    internal async ValueTask<SseItem<string>?> NextAsync(CancellationToken cancellationToken)
    {
        try
        {
            while (await _waiting.Reader.WaitToReadAsync(cancellationToken))
            {
                if (Interlocked.Exchange(ref _missed, 0) == 1)
                {
                    return Resync;
                }

                if (_waiting.Reader.TryRead(out SseItem<string> item))
                {
                    return item;
                }
            }
        }
        catch (OperationCanceledException)
        {
            // The page has gone, the feed has run its time, or the service stops: the stream just ends.
        }

        return null;
    }

    public void Dispose() => _feed.Leave(this);
}
