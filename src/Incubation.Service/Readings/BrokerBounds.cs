using System.Collections.Concurrent;
using Incubation.Core;

namespace Incubation.Service.Readings;

/// <summary>Who else listens on the broker, and what it keeps for them: counted, so that both stay bounded and cost nothing when unused.</summary>
internal sealed class BrokerBounds
{
    private readonly ConcurrentDictionary<(string Client, string Filter), byte> _subscriptions = new();
    private readonly ConcurrentDictionary<string, byte> _retained = new(StringComparer.Ordinal);
    private volatile bool _anyone;

    /// <summary>Whether any client, here or away with a session, subscribes to anything.</summary>
    public bool AnyoneListens => _anyone;

    public bool MaySubscribe(string client, string filter)
        => _subscriptions.Count < Limits.BrokerSubscriptions || _subscriptions.ContainsKey((client, filter));

    public void Subscribed(string client, string filter)
    {
        _subscriptions[(client, filter)] = 0;
        _anyone = true;
    }

    public void Unsubscribed(string client, string filter)
    {
        _subscriptions.TryRemove((client, filter), out _);
        _anyone = !_subscriptions.IsEmpty;
    }

    public void SessionEnded(string client)
    {
        foreach ((string Client, string Filter) key in _subscriptions.Keys)
        {
            if (key.Client == client)
            {
                _subscriptions.TryRemove(key, out _);
            }
        }

        _anyone = !_subscriptions.IsEmpty;
    }

    /// <summary>Whether the broker may keep a retained message of this topic; an empty one takes the kept one away.</summary>
    public bool MayRetain(string topic, bool empty)
    {
        if (empty)
        {
            _retained.TryRemove(topic, out _);
            return true;
        }

        return _retained.ContainsKey(topic) || (_retained.Count < Limits.RetainedTopics && _retained.TryAdd(topic, 0));
    }
}
