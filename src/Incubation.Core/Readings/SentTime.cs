using NodaTime;

namespace Incubation.Core.Readings;

/// <summary>What a payload says about when a value was measured.</summary>
internal enum SentTimeKind
{
    /// <summary>Nothing: now.</summary>
    None,

    /// <summary>A moment by the probe's clock.</summary>
    Moment,

    /// <summary>How long ago, which needs no clock.</summary>
    Ago,

    /// <summary>Something that is no time: a broken clock costs no reading.</summary>
    Unreadable,
}

/// <summary>A time as sent.</summary>
/// <param name="Kind">Of what kind.</param>
/// <param name="At">The moment; of <see cref="SentTimeKind.Ago"/> counted from the arrival.</param>
internal readonly record struct SentTime(SentTimeKind Kind, Instant At)
{
    // The end of year 9999, where RFC 3339 ends.
    private const double LastSecond = 253_402_300_799;

    // From here a number of seconds would be in year 5138 and one of milliseconds in 1973: such numbers are milliseconds.
    private const double MillisecondsFrom = 1e11;

    public static SentTime None => default;

    public static SentTime Unreadable => new(SentTimeKind.Unreadable, default);

    public static SentTime Moment(Instant at) => new(SentTimeKind.Moment, at);

    /// <summary>From seconds since 1970 in UTC, rounded to the millisecond; or from milliseconds, as many boards count.</summary>
    public static SentTime FromEpoch(double number) => FromSeconds(Math.Abs(number) >= MillisecondsFrom ? number / 1000 : number);

    /// <summary>From seconds since 1970 in UTC, rounded to the millisecond.</summary>
    public static SentTime FromSeconds(double seconds) => Math.Abs(seconds) <= LastSecond ? Moment(Milliseconds(NodaConstants.UnixEpoch, seconds)) : Unreadable;

    /// <summary>From seconds relative to the arrival, negative in the past.</summary>
    public static SentTime Relative(Instant arrivedAt, double seconds) =>
        Math.Abs(seconds) <= LastSecond / 4 ? new SentTime(SentTimeKind.Ago, Milliseconds(arrivedAt, seconds)) : Unreadable;

    private static Instant Milliseconds(Instant from, double seconds) => from + Duration.FromMilliseconds((long)Math.Round(seconds * 1000));
}
