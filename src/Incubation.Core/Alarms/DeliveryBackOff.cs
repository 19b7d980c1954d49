using NodaTime;

namespace Incubation.Core.Alarms;

/// <summary>When a call that could not be delivered is tried again. Soon at first, since eggs wait; never more than five minutes apart.</summary>
public static class DeliveryBackOff
{
    private static readonly int[] Seconds = [2, 5, 15, 30, 60, 120, 300];

    /// <summary>A call that is still undelivered after this long is given up: its repeats have long taken over.</summary>
    public static readonly Duration GiveUpAfter = Duration.FromHours(24);

    /// <summary>Pause after a failed attempt.</summary>
    /// <param name="attempts">Attempts made so far, 1 and up.</param>
    /// <exception cref="ArgumentOutOfRangeException">Less than 1.</exception>
    public static Duration After(int attempts)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(attempts, 1);
        return Duration.FromSeconds(Seconds[Math.Min(attempts, Seconds.Length) - 1]);
    }
}
