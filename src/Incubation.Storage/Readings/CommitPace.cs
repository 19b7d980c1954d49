using Incubation.Core;
using Incubation.Core.Readings;

namespace Incubation.Storage.Readings;

/// <summary>
/// Says how long the readings at hand wait for company before their commit. Each commit costs a sync and a few pages, which wear an SD card
/// out: so at low load they become few, one a second and some in stock. Three things are never kept waiting: a burst after a quiet time, many
/// readings at once, and a sender that sends its next as soon as it hears of its last. Nothing but the acknowledgement waits.
/// </summary>
internal sealed class CommitPace
{
    // A sender on a wireless network that waits for its acknowledgement is back within this time.
    private const long BackAtOnceMs = 50;

    private readonly HashSet<SeriesKey> _answered = [];
    private double _stock = Limits.CommitsInStock;
    private long _filledAt, _answeredAt = long.MinValue / 2;
    private bool _answeredMany;

    /// <summary>How much longer the batch should wait, milliseconds; 0 to commit now.</summary>
    /// <param name="now">Milliseconds on any clock that never jumps.</param>
    /// <param name="batch">What waits.</param>
    /// <param name="readings">How many readings that is.</param>
    public int Wait(long now, List<PendingCommit> batch, int readings)
    {
        _stock = Math.Min(Limits.CommitsInStock, _stock + (double)(now - _filledAt) / Limits.CommitWindowMs);
        _filledAt = now;
        return _stock >= 1 || readings >= Limits.CommitAtOnce || IsWaitedFor(now, batch)
            ? 0
            : Math.Max(1, (int)Math.Ceiling((1 - _stock) * Limits.CommitWindowMs));
    }

    /// <summary>A batch was committed and its senders are answered.</summary>
    public void Committed(long now, List<PendingCommit> batch, int readings)
    {
        _stock = Math.Max(0, _stock - 1);
        _answeredAt = now;
        _answeredMany = readings >= Limits.CommitAtOnce;
        _answered.Clear();
        if (!_answeredMany)
        {
            foreach (PendingCommit pending in batch)
            {
                foreach (ref readonly Reading reading in pending.Readings.Span)
                {
                    _answered.Add(reading.Series);
                }
            }
        }
    }

    private bool IsWaitedFor(long now, List<PendingCommit> batch)
    {
        if (now - _answeredAt > BackAtOnceMs)
        {
            return false;
        }

        foreach (PendingCommit pending in batch)
        {
            foreach (ref readonly Reading reading in pending.Readings.Span)
            {
                if (_answeredMany || _answered.Contains(reading.Series))
                {
                    return true;
                }
            }
        }

        return false;
    }
}
