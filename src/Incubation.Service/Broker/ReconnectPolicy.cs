namespace Incubation.Service.Broker;

/// <summary>
/// How long to wait before the next attempt to connect. Pure; one instance per connection owner. Pauses double, and chance takes up to
/// half away, so that the clients of a broker that restarts don't all come back in the same moment.
/// </summary>
internal sealed class ReconnectPolicy
{
    public static readonly TimeSpan First = TimeSpan.FromSeconds(1);

    /// <summary>A broker that is back is heard again after this at the latest.</summary>
    public static readonly TimeSpan Longest = TimeSpan.FromSeconds(30);

    /// <summary>Who was let in nowhere does not knock every second: brokers lock out those who do.</summary>
    public static readonly TimeSpan FirstWhenRefused = TimeSpan.FromSeconds(10);

    /// <summary>Two that push each other out would do so for ever; slowly, each hears something, and both logs say why.</summary>
    public static readonly TimeSpan FirstWhenTakenOver = TimeSpan.FromMinutes(1);

    public static readonly TimeSpan LongestWhenTakenOver = TimeSpan.FromMinutes(10);

    /// <summary>A connection that was heard through for this long starts the count afresh, unless it was taken over.</summary>
    public static readonly TimeSpan StableAfter = TimeSpan.FromMinutes(1);

    private int _attempts;
    private int _takenOver;

    /// <summary>The pause after a loss.</summary>
    /// <param name="kind">What was lost.</param>
    /// <param name="heardFor">How long the connection had been heard through; zero when it never was.</param>
    /// <param name="chance">0 up to 1.</param>
    public TimeSpan After(LossKind kind, TimeSpan heardFor, double chance)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(chance);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(chance, 1);
        if (heardFor >= StableAfter)
        {
            _attempts = 0;
        }

        // A rival leaves us in peace for as long as it waits itself, which must not look like peace.
        if (heardFor >= 2 * LongestWhenTakenOver)
        {
            _takenOver = 0;
        }

        (TimeSpan first, TimeSpan longest, int doublings) = kind switch
        {
            LossKind.TakenOver => (FirstWhenTakenOver, LongestWhenTakenOver, _takenOver++),
            LossKind.Refused => (FirstWhenRefused, Longest, _attempts++),
            _ => (First, Longest, _attempts++),
        };
        TimeSpan pause = first * Math.Pow(2, Math.Min(doublings, 20));
        return (pause < longest ? pause : longest) * (1 - (chance / 2));
    }
}
