using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>How long a series has been at one value without a flicker, and the longest it was on each day of the past week.</summary>
public sealed class TroubleStillness
{
    // Two values nearer than this are one: the dust of unit conversions and corrections.
    private const double Dust = 1e-6;

    // The finest step that is taken for one; a probe with finer steps counts as having none.
    private const double FinestStep = 1e-4;

    private const int Days = 8;

    // A silence inside a stillness counts as no more than this, so that a day without power is no day of standing still.
    private static readonly Duration MostGap = Duration.FromMinutes(15);

    private readonly long[] _day = new long[Days];
    private readonly int[] _count = new int[Days];
    private readonly Duration[] _time = new Duration[Days];
    private Instant _last;
    private bool _any;

    /// <summary>The value it stands at.</summary>
    public double Value { get; private set; }

    /// <summary>Since when.</summary>
    public Instant Since { get; private set; }

    /// <summary>Readings of the present stillness.</summary>
    public int Count { get; private set; }

    /// <summary>Length of the present stillness; silences count for little.</summary>
    public Duration Time { get; private set; }

    /// <summary>Changes of the value since the start.</summary>
    public long Changes { get; private set; }

    /// <summary>The smallest step seen between two neighbouring readings, in the quantity's unit; 0 before any.</summary>
    public double Step { get; private set; }

    /// <summary>Whether the present stillness has been called trouble: it is then no measure for later ones.</summary>
    public bool Called { get; set; }

    internal void Add(Instant at, double value)
    {
        double change = Math.Abs(value - Value);
        if (_any && change < Dust)
        {
            Count++;
            Time += Duration.Min(at - _last, MostGap);
            _last = at;
            return;
        }

        if (_any)
        {
            Remember();
            Changes++;
            if (change >= FinestStep && (Step == 0 || change < Step))
            {
                Step = change;
            }
        }

        (_any, Value, Since, Count, Time, _last, Called) = (true, value, at, 1, Duration.Zero, at, false);
    }

    /// <summary>The longest stillness that ended in the week before the present one began.</summary>
    public (int Count, Duration Time) Longest()
    {
        long today = Day(Since);
        (int count, Duration time) = (1, Duration.Zero);
        for (int i = 0; i < Days; i++)
        {
            if (_count[i] > 0 && today - _day[i] < Days)
            {
                (count, time) = (Math.Max(count, _count[i]), Duration.Max(time, _time[i]));
            }
        }

        return (count, time);
    }

    private void Remember()
    {
        if (Called)
        {
            return;
        }

        long day = Day(_last);
        int slot = (int)(((day % Days) + Days) % Days);
        if (_day[slot] != day || _count[slot] == 0)
        {
            (_day[slot], _count[slot], _time[slot]) = (day, 0, Duration.Zero);
        }

        _count[slot] = Math.Max(_count[slot], Count);
        _time[slot] = Duration.Max(_time[slot], Time);
    }

    private static long Day(Instant at) => (long)Math.Floor((at - NodaConstants.UnixEpoch).TotalDays);
}
