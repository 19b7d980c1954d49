using System.Globalization;
using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Storage.Readings.Spool;

/// <summary>How the store is, in words, for whoever asks from whatever thread.</summary>
internal sealed class StoreTelling(TimeProvider time)
{
    /// <summary>The cause, when the last of the disk is left to the records.</summary>
    public const string NoRoom = "The disk is nearly full, and what is left of it is kept for alarms and calls. Free some space on the data directory's disk.";

    private const string Well = "Readings are stored.";
    private const string Low = "The disk is nearly full: free some space on the data directory's disk.";

    private volatile StoreState _state = new(StoreKind.Well, Instant.FromDateTimeOffset(time.GetUtcNow()), Well, 0, 0, false);

    public StoreState State => _state;

    public event Action? Changed;

    /// <param name="kind">Where readings go.</param>
    /// <param name="cause">What the database said; empty while what waits is being caught up.</param>
    /// <param name="spool">The spool file, or null.</param>
    /// <param name="nearlyFull">Whether the reserve is not held.</param>
    public void Tell(StoreKind kind, string cause, SpoolFile? spool, bool nearlyFull)
    {
        StoreState before = _state;
        bool changed = kind != before.Kind || nearlyFull != before.DiskNearlyFull;
        if (!changed && kind == StoreKind.Well && before.SpoolBytes == (spool?.Bytes ?? 0))
        {
            return;
        }

        string words = kind switch
        {
            StoreKind.Well => nearlyFull ? $"{Well} {Low}" : Well,
            StoreKind.Spooling => cause.Length == 0
                ? "The database takes readings again; those that waited in the spool file are being caught up."
                : string.Create(CultureInfo.InvariantCulture,
                    $"{cause} Meanwhile readings are kept in the spool file, of which {Percent(spool!):0.#} % are used; they are caught up by themselves."),
            _ => $"{cause} Probes keep their readings and send them again.",
        };
        _state = new StoreState(
            kind, kind == before.Kind ? before.Since : Instant.FromDateTimeOffset(time.GetUtcNow()), words, spool?.Used ?? 0, spool?.Bytes ?? 0,
            nearlyFull);
        if (changed)
        {
            Changed?.Invoke();
        }
    }

    private static double Percent(SpoolFile spool) => 100.0 * spool.Used / spool.Bytes;
}
