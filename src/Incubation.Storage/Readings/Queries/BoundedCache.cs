using System.Diagnostics.CodeAnalysis;

namespace Incubation.Storage.Readings.Queries;

/// <summary>Keeps what was read last, up to so many bytes; the longest unused goes first. Safe to call from any thread.</summary>
internal sealed class BoundedCache<T>(long mostBytes)
    where T : class
{
    private readonly Lock _lock = new();
    private readonly Dictionary<long, LinkedListNode<(long Id, T Value, int Bytes)>> _byId = [];
    private readonly LinkedList<(long Id, T Value, int Bytes)> _byUse = [];

    /// <summary>Bytes kept now.</summary>
    public long Bytes { get; private set; }

    public bool TryGet(long id, [NotNullWhen(true)] out T? value)
    {
        lock (_lock)
        {
            if (_byId.TryGetValue(id, out LinkedListNode<(long, T Value, int)>? known))
            {
                _byUse.Remove(known);
                _byUse.AddLast(known);
                value = known.Value.Value;
                return true;
            }
        }

        value = null;
        return false;
    }

    public void Put(long id, T value, int bytes)
    {
        lock (_lock)
        {
            if (_byId.ContainsKey(id))
            {
                return;
            }

            _byId.Add(id, _byUse.AddLast((id, value, bytes)));
            Bytes += bytes;
            while (Bytes > mostBytes && _byUse.First is { } oldest)
            {
                _byUse.RemoveFirst();
                _byId.Remove(oldest.Value.Id);
                Bytes -= oldest.Value.Bytes;
            }
        }
    }
}
