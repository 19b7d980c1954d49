using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>
/// Finds single values that lie apart from both their neighbours by more than air, door or hand can make, and the way back: what a loose
/// plug or a wet joint does. A step that stays is none: the probe may have been moved.
/// </summary>
/// <param name="quantity">What is measured.</param>
public sealed class TroubleJumps(Quantity quantity)
{
    /// <summary>Jumps remembered; more only makes the count higher.</summary>
    private const int Kept = 16;

    // Values that stay away for longer than this many readings have moved there.
    private const int MostAway = 2;

    private readonly TroublePoint[] _jumps = new TroublePoint[Kept];
    private readonly double[] _from = new double[Kept];
    private Instant _at;
    private double _value;
    private bool _any;
    private TroublePoint? _away;
    private double _before;
    private int _readingsAway;

    /// <summary>All jumps since the start.</summary>
    public long Count { get; private set; }

    internal void Add(Instant at, double value)
    {
        if (!_any)
        {
            (_any, _at, _value) = (true, at, value);
            return;
        }

        double possible = Possible(at - _at);
        if (_away is { } there)
        {
            // Back to where it was, within a quarter of the jump.
            if (Math.Abs(value - _before) <= Math.Abs(there.Value - _before) / 4)
            {
                int slot = (int)(Count++ % Kept);
                (_jumps[slot], _from[slot], _away) = (there, _before, null);
            }
            else if (++_readingsAway >= MostAway)
            {
                _away = null;
            }
        }
        else if (Math.Abs(value - _value) > possible)
        {
            (_away, _before, _readingsAway) = (new TroublePoint(at, value), _value, 0);
        }

        (_at, _value) = (at, value);
    }

    /// <summary>The jumps since a time, oldest first, with the value each came from.</summary>
    public IReadOnlyList<(TroublePoint Jump, double From)> Since(Instant from)
    {
        List<(TroublePoint Jump, double From)> found = [];
        for (int i = 0; i < Math.Min(Count, Kept); i++)
        {
            if (_jumps[i].At >= from)
            {
                found.Add((_jumps[i], _from[i]));
            }
        }

        found.Sort(static (a, b) => a.Jump.At.CompareTo(b.Jump.At));
        return found;
    }

    private double Possible(Duration apart)
        => TroubleRules.JumpAtOnce(quantity) + (TroubleRules.JumpPerSecond(quantity) * apart.TotalSeconds);
}
