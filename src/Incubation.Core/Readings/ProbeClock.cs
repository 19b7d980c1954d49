using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>Whether a probe's own time is believed. A wrong clock never costs a reading: it is kept at the time it arrived.</summary>
public static class ProbeClock
{
    /// <summary>How far ahead of the arrival a probe's time may be: more than any network takes and any clock drifts in a week.</summary>
    public static Duration Ahead { get; } = Duration.FromMinutes(5);

    /// <summary>How old a reading may be: a probe that buffers over a long holiday is believed, a stale clock is not.</summary>
    public static Duration Behind { get; } = Duration.FromDays(30);

    /// <summary>No board that speaks to this service measured anything before: boards without a battery wake up in 1970 or 2000.</summary>
    public static Instant Earliest { get; } = Instant.FromUtc(2020, 1, 1, 0, 0);

    /// <summary>Whether a reading may be stored at the probe's own time.</summary>
    public static bool Believes(Instant probeTime, Instant arrivedAt) =>
        probeTime >= Earliest && probeTime <= arrivedAt + Ahead && probeTime >= arrivedAt - Behind;
}
