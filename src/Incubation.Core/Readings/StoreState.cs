using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>Where readings go at the moment.</summary>
public enum StoreKind
{
    /// <summary>Into the database.</summary>
    Well,

    /// <summary>Into the spool file, from which they are caught up: nothing is lost, but history has a hole until then.</summary>
    Spooling,

    /// <summary>Nowhere: probes are refused and keep what they measure. Judging and calling go on from memory.</summary>
    Refusing,
}

/// <summary>How the store is.</summary>
/// <param name="Kind">Where readings go.</param>
/// <param name="Since">Since when, on the wall clock.</param>
/// <param name="Words">The same for people, with the cause and the fix, as whole sentences.</param>
/// <param name="SpoolUsedBytes">What waits in the spool file to be caught up, bytes.</param>
/// <param name="SpoolBytes">How much the spool file holds, bytes; 0 when there is none.</param>
/// <param name="DiskNearlyFull">Whether the reserve was given up, or could not be made, for want of room on the disk.</param>
public sealed record StoreState(
    StoreKind Kind, Instant Since, string Words, long SpoolUsedBytes, long SpoolBytes, bool DiskNearlyFull)
{
    /// <summary>Whether a person has to do something about it.</summary>
    public bool NeedsAttention => Kind != StoreKind.Well || DiskNearlyFull;
}

/// <summary>Tells how the store is, at once and from memory.</summary>
public interface IStoreState
{
    /// <summary>How it is now.</summary>
    StoreState State { get; }

    /// <summary>Raised after <see cref="StoreState.Kind"/> or <see cref="StoreState.DiskNearlyFull"/> changed. Must be quick and must not throw.</summary>
    event Action? StateChanged;
}
