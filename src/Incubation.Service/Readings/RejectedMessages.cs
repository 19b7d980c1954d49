using System.Buffers;
using Incubation.Core;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>Messages that could not be read, counted by topic and reason.</summary>
internal sealed record RejectedMessage(string Topic, string Reason, string PayloadStart, long Count, Instant FirstAt, Instant LastAt);

/// <summary>
/// The bounded list of rejected messages, in memory so that the publish hook never waits; <see cref="RejectedMessageRecorder"/> writes it
/// down every few seconds. At the bound the one that was not seen for longest makes room.
/// </summary>
internal sealed class RejectedMessages
{
    private const int TopicLength = 200;

    private readonly Lock _gate = new();
    private readonly Dictionary<(string, string), LinkedListNode<RejectedMessage>> _byKey = [];
    private readonly LinkedList<RejectedMessage> _oldestFirst = new();
    private bool _changed;

    public void Add(string topic, string reason, in ReadOnlySequence<byte> payload, Instant at)
    {
        string start = PrintablePayload.Start(payload);
        string kept = topic.Length <= TopicLength ? topic : string.Concat(topic.AsSpan(0, TopicLength), "…");
        lock (_gate)
        {
            _changed = true;
            if (_byKey.TryGetValue((kept, reason), out LinkedListNode<RejectedMessage>? node))
            {
                node.Value = node.Value with { Count = node.Value.Count + 1, PayloadStart = start, LastAt = at };
                _oldestFirst.Remove(node);
                _oldestFirst.AddLast(node);
                return;
            }

            Append(new RejectedMessage(kept, reason, start, 1, at, at));
        }
    }

    /// <summary>All that are kept, newest first.</summary>
    public IReadOnlyList<RejectedMessage> List()
    {
        lock (_gate)
        {
            return [.. _oldestFirst.Reverse()];
        }
    }

    /// <summary>All that are kept when something has changed since the last call, else null.</summary>
    public IReadOnlyList<RejectedMessage>? TakeChanged()
    {
        lock (_gate)
        {
            if (!_changed)
            {
                return null;
            }

            _changed = false;
            return [.. _oldestFirst];
        }
    }

    /// <summary>The last list was not written after all.</summary>
    public void NotWritten()
    {
        lock (_gate)
        {
            _changed = true;
        }
    }

    /// <summary>Takes over what was written before the start.</summary>
    public void Load(IEnumerable<RejectedMessage> messages)
    {
        lock (_gate)
        {
            foreach (RejectedMessage message in messages.OrderBy(m => m.LastAt))
            {
                if (!_byKey.ContainsKey((message.Topic, message.Reason)))
                {
                    Append(message);
                }
            }
        }
    }

    private void Append(RejectedMessage message)
    {
        _byKey[(message.Topic, message.Reason)] = _oldestFirst.AddLast(message);
        if (_byKey.Count > Limits.RejectedMessages)
        {
            RejectedMessage oldest = _oldestFirst.First!.Value;
            _oldestFirst.RemoveFirst();
            _byKey.Remove((oldest.Topic, oldest.Reason));
        }
    }
}
