using System.Collections.Concurrent;
using Incubation.Core;

namespace Incubation.Service.Readings;

/// <summary>Who else listens on the broker, and what it keeps for them: counted, so that both stay bounded and cost nothing when unused.</summary>
internal sealed class BrokerBounds
{
    private readonly Lock _gate = new();
    private readonly HashSet<(string Client, string Filter)> _subscriptions = [];
    private readonly ConcurrentDictionary<string, byte> _retained = new(StringComparer.Ordinal);
    private volatile bool _anyone;

    /// <summary>Whether any client, here or away with a session, subscribes to anything.</summary>
    public bool AnyoneListens => _anyone;

    public bool MaySubscribe(string client, string filter)
    {
        lock (_gate)
        {
            return _subscriptions.Count < Limits.BrokerSubscriptions || _subscriptions.Contains((client, filter));
        }
    }

    public void Subscribed(string client, string filter)
    {
        lock (_gate)
        {
            _subscriptions.Add((client, filter));
            _anyone = true;
        }
    }

    public void Unsubscribed(string client, string filter)
    {
        lock (_gate)
        {
            _subscriptions.Remove((client, filter));
            _anyone = _subscriptions.Count > 0;
        }
    }

    public void SessionEnded(string client)
    {
        lock (_gate)
        {
            _subscriptions.RemoveWhere(s => s.Client == client);
            _anyone = _subscriptions.Count > 0;
        }
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
