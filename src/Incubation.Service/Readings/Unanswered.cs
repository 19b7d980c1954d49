using System.Collections.Concurrent;
using Incubation.Core;

namespace Incubation.Service.Readings;

/// <summary>
/// Every connection of the embedded broker that may owe answers, found by the token that the broker gives both to its reads and to the publish
/// hook; and how many answers are owed in all, so that the memory for them stays bounded however many connections there are.
/// </summary>
internal sealed class Unanswered
{
    private readonly ConcurrentDictionary<CancellationToken, Acknowledgements> _connections = new();
    private readonly TaskCompletionSource _none = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private int _count;
    private volatile bool _closing;

    /// <summary>Messages that are not answered yet.</summary>
    public int Count => Volatile.Read(ref _count);

    /// <summary>Messages of one connection that may be unanswered now; 0 when nothing is taken any more.</summary>
    public int Bound => _closing ? 0 : Count >= Limits.WriterQueue ? 1 : Limits.UnacknowledgedMessages;

    /// <summary>The connection whose loop has this token; null for what comes by none, such as a last will.</summary>
    public Acknowledgements? Of(CancellationToken connection) => _connections.GetValueOrDefault(connection);

    public void Add(Acknowledgements answers, CancellationToken connection) => _connections[connection] = answers;

    public void Remove(CancellationToken connection) => _connections.TryRemove(connection, out _);

    public void Owed() => Interlocked.Increment(ref _count);

    public void Settled()
    {
        if (Interlocked.Decrement(ref _count) == 0 && _closing)
        {
            _none.TrySetResult();
        }
    }

    /// <summary>Takes nothing more and waits a while for what is owed to be answered: it would come again after the restart.</summary>
    public async Task CloseAsync(TimeSpan patience, CancellationToken stop)
    {
        _closing = true;
        if (Count > 0)
        {
            await Task.WhenAny(_none.Task, Task.Delay(patience, TimeProvider.System, stop));
        }
    }
}
