using NodaTime;
using NodaTime.Text;

namespace Incubation.Service.Hosting;

/// <summary>How far the clock of this machine can be believed, in words.</summary>
/// <param name="Trusted">Whether it is believed.</param>
/// <param name="Words">What is so and what to do, in one or two sentences.</param>
internal sealed record ClockState(bool Trusted, string Words);

/// <summary>
/// Whether the machine's clock is trusted, for the first screen, for the page about the keeping of readings, and for whatever must wait while it isn't
/// (nothing is thrown away by age meanwhile).
/// </summary>
internal sealed class ClockTrust(ServiceClock clock)
{
    private const string Meanwhile =
        "Alarms go on, on a clock that doesn't jump; readings are kept with the earliest time they can have, and marked. Connect this machine to its "
        + "time server, or set its clock.";

    private static readonly InstantPattern Minutes = InstantPattern.CreateWithInvariantCulture("uuuu-MM-dd HH:mm 'UTC'");

    private volatile string? _past;
    private Instant? _doubtedSince;

    public ClockState Now
    {
        get
        {
            Instant believed = clock.Wall;
            ClockLine line = clock.Line;
            return line.Doubt == ClockDoubt.None
                ? new ClockState(true, _past ?? "The clock of this machine runs as it should, as far as can be seen.")
                : new ClockState(false, $"{Why(line, believed)} {Meanwhile}");
        }
    }

    /// <summary>Keeps in mind for how long the clock was doubted.</summary>
    public void Changed(bool trusted)
    {
        if (!trusted)
        {
            _doubtedSince = clock.Wall;
        }
        else
        {
            string since = _doubtedSince is { } from ? $"From {Minutes.Format(from)} on" : "After the start";
            _past = $"The clock of this machine is trusted again, since {Minutes.Format(clock.Wall)}. {since} it was not: readings of that time are marked, and may be later than they say.";
            _doubtedSince = null;
        }
    }

    private static string Why(ClockLine line, Instant believed) => line.Doubt switch
    {
        ClockDoubt.Behind =>
            $"The clock of this machine is not trusted: it showed {Minutes.Format(line.Shown)} at the start, but a later time has been seen; it is {Minutes.Format(believed)} or later.",
        ClockDoubt.SteppedBack =>
            $"The clock of this machine is not trusted: it jumped back to {Minutes.Format(line.Shown)}, but it is {Minutes.Format(believed)} or later.",
        _ => $"The clock of this machine is not trusted: it jumped ahead to {Minutes.Format(line.Shown)} with no time server to vouch for it; "
            + $"{Minutes.Format(believed)} is gone by.",
    };
}
