using Incubation.Core;

namespace Incubation.Storage.Readings;

/// <summary>
/// Says how long the readings at hand wait for company before their commit. Each commit costs a sync and a few pages, which wear an SD card
/// out: so at low load they become few, one a second and some in stock. Never kept waiting are a burst after a quiet time, many readings at
/// once, and a sender that may be waiting for its answer. Nothing but the acknowledgement waits.
/// </summary>
internal sealed class CommitPace
{
    private double _stock = Limits.CommitsInStock;
    private long _filledAt;

    /// <summary>A message was taken over to be committed.</summary>
    public static void Arrived(long now, PendingCommit pending)
    {
        pending.ArrivedAt = now;
        pending.Sender?.Arrived(now);
    }

    /// <summary>How much longer the batch should wait, milliseconds; 0 to commit now.</summary>
    /// <param name="now">Milliseconds on any clock that never jumps.</param>
    /// <param name="batch">What waits.</param>
    /// <param name="readings">How many readings that is.</param>
    public int Wait(long now, List<PendingCommit> batch, int readings)
    {
        _stock = Math.Min(Limits.CommitsInStock, _stock + (double)(now - _filledAt) / Limits.CommitWindowMs);
        _filledAt = now;
        if (_stock >= 1 || readings >= Limits.CommitAtOnce)
        {
            return 0;
        }

        double wait = (1 - _stock) * Limits.CommitWindowMs;
        foreach (PendingCommit pending in batch)
        {
            // Whoever names no sender waits for the answer itself.
            wait = Math.Min(wait, pending.Sender is { } sender ? pending.ArrivedAt + sender.PatienceMs - now : 0);
        }

        return wait <= 0 ? 0 : Math.Max(1, (int)Math.Ceiling(wait));
    }

    /// <summary>A batch was committed, or refused, and its senders are answered.</summary>
    public void Answered(long now, List<PendingCommit> batch)
    {
        _stock = Math.Max(0, _stock - 1);
        foreach (PendingCommit pending in batch)
        {
            pending.Sender?.Answered(now);
        }
    }
}
