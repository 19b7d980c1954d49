using NodaTime;

namespace Incubation.Core.Alarms;

/// <summary>Which side of a limit is wrong.</summary>
public enum LimitSide
{
    /// <summary>Values above the limit are wrong.</summary>
    High,

    /// <summary>Values below the limit are wrong.</summary>
    Low,
}

/// <summary>One limit and how patient it is.</summary>
/// <param name="Side">Which side is wrong.</param>
/// <param name="Limit">The limit, in the quantity's unit.</param>
/// <param name="Deadband">How far back inside a value must come, strictly more than this, before it may clear; ≥ 0, same unit.</param>
/// <param name="OnDelay">How long a value stays beyond before the alarm is raised; ≥ 0.</param>
/// <param name="OffDelay">How long it stays back inside before the alarm clears; ≥ 0.</param>
public readonly record struct LimitRule(LimitSide Side, double Limit, double Deadband, Duration OnDelay, Duration OffDelay)
{
    /// <summary>Strictly past the limit. NaN is never beyond.</summary>
    public bool IsBeyond(double value) => Side == LimitSide.High ? value > Limit : value < Limit;

    /// <summary>Back inside by strictly more than the deadband. NaN is never back.</summary>
    public bool IsBack(double value) => Side == LimitSide.High ? value < Limit - Deadband : value > Limit + Deadband;
}

/// <summary>What a watch says after it was told something.</summary>
public enum WatchEvent
{
    /// <summary>Nothing changed that anybody needs to hear of.</summary>
    None,

    /// <summary>It became abnormal.</summary>
    Raise,

    /// <summary>It is normal again.</summary>
    Clear,
}

/// <summary>
/// One value against one limit with deadband, on-delay and off-delay (basic alarm design of ISA-18.2 / IEC 62682). A delay that is
/// interrupted starts afresh. The last value holds until the next: an alarm is raised when its delay ends, not when the next reading comes.
/// A mutable struct without allocation: it is evaluated for every reading, live and in replay.
/// </summary>
public struct LimitWatch : IEquatable<LimitWatch>
{
    private Instant _due;
    private bool _pending;

    /// <summary>Whether it has been raised and not cleared.</summary>
    public bool Active { get; private set; }

    /// <summary>When <see cref="Elapse"/> is to be called, if no value comes first; <see cref="Instant.MaxValue"/> for never.</summary>
    public readonly Instant Due => _pending ? _due : Instant.MaxValue;

    /// <summary>A watch that goes on where another stood, with no delay running.</summary>
    public static LimitWatch Restored(bool active) => new() { Active = active };

    /// <summary>
    /// Tells it a good value. Call <see cref="Elapse"/> first when <see cref="Due"/> has passed, since the former value held until now.
    /// NaN is no value and changes nothing.
    /// </summary>
    public WatchEvent Observe(in LimitRule rule, double value, Instant at)
    {
        if (double.IsNaN(value))
        {
            return WatchEvent.None;
        }

        if (!(Active ? rule.IsBack(value) : rule.IsBeyond(value)))
        {
            _pending = false;
            return WatchEvent.None;
        }

        if (!_pending)
        {
            _pending = true;
            _due = at + (Active ? rule.OffDelay : rule.OnDelay);
        }

        return Elapse(at);
    }

    /// <summary>Tells it the time: raises or clears when the delay that runs has ended.</summary>
    public WatchEvent Elapse(Instant now)
    {
        if (!_pending || now < _due)
        {
            return WatchEvent.None;
        }

        _pending = false;
        Active = !Active;
        return Active ? WatchEvent.Raise : WatchEvent.Clear;
    }

    /// <summary>There is no value to go by any more: a delay that runs is dropped, and what stands keeps standing.</summary>
    public void Drop() => _pending = false;

    /// <inheritdoc/>
    public readonly bool Equals(LimitWatch other) => Active == other.Active && Due == other.Due;

    /// <inheritdoc/>
    public override readonly bool Equals(object? obj) => obj is LimitWatch other && Equals(other);

    /// <inheritdoc/>
    public override readonly int GetHashCode() => HashCode.Combine(Active, Due);

    /// <summary>Same state.</summary>
    public static bool operator ==(LimitWatch left, LimitWatch right) => left.Equals(right);

    /// <summary>Different state.</summary>
    public static bool operator !=(LimitWatch left, LimitWatch right) => !left.Equals(right);
}
