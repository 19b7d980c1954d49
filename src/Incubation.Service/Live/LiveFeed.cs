using System.Collections.Concurrent;
using System.Net.ServerSentEvents;
using System.Text.Json;
using Incubation.Core;
using Microsoft.Extensions.Options;
using JsonOptions = Microsoft.AspNetCore.Http.Json.JsonOptions;

namespace Incubation.Service.Live;

/// <summary>Hands each event to every open page, written as JSON once. Costs next to nothing while no page is open.</summary>
internal sealed class LiveFeed(IOptions<JsonOptions> json) : ILiveFeed
{
    private readonly ConcurrentDictionary<LiveSubscription, byte> _subscriptions = new();
    private int _count;

    /// <summary>Whether any page is open.</summary>
    public bool HasListeners => Volatile.Read(ref _count) > 0;

    public void Publish(string eventName, object payload)
    {
        if (!HasListeners)
        {
            return;
        }

        SseItem<string> item = Item(eventName, payload);
        foreach (KeyValuePair<LiveSubscription, byte> entry in _subscriptions)
        {
            entry.Key.Offer(item);
        }
    }

    /// <summary>Opens a page's feed, or null when <see cref="Limits.LiveFeeds"/> are open.</summary>
    public LiveSubscription? Join()
    {
        if (Interlocked.Increment(ref _count) > Limits.LiveFeeds)
        {
            Interlocked.Decrement(ref _count);
            return null;
        }

        LiveSubscription subscription = new(this);
        _subscriptions.TryAdd(subscription, 0);
        return subscription;
    }

    internal void Leave(LiveSubscription subscription)
    {
        if (_subscriptions.TryRemove(subscription, out _))
        {
            Interlocked.Decrement(ref _count);
        }
    }

    internal SseItem<string> Item(string eventName, object payload)
        => new(JsonSerializer.Serialize(payload, payload.GetType(), json.Value.SerializerOptions), eventName);
}
