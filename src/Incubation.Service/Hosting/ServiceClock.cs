using NodaTime;

namespace Incubation.Service.Hosting;

/// <summary>
/// Time for the service. <see cref="Steady"/> never jumps: it starts at the wall clock and runs on the monotonic one, and alarms
/// use it; <see cref="Wall"/> is what people read.
/// </summary>
internal sealed class ServiceClock(TimeProvider time)
{
    private readonly Instant _start = Instant.FromDateTimeOffset(time.GetUtcNow());
    private Instant _latestSeen = Instant.MinValue;
    private readonly long _startTimestamp = time.GetTimestamp();

    public TimeProvider Provider => time;

    public Instant Steady => _start + Duration.FromTimeSpan(time.GetElapsedTime(_startTimestamp));

    public Instant Wall => Instant.FromDateTimeOffset(time.GetUtcNow());

    /// <summary>
    /// Whether the wall clock can be believed: false when it stands before a time that this service has seen already, as on a board
    /// without a battery that woke up in the past. Alarms go on all the same; dates wait.
    /// </summary>
    public bool Trusted => Wall >= _latestSeen;

    /// <summary>Notes a wall time that was seen before this start.</summary>
    public void Seen(Instant wall)
    {
        if (wall > _latestSeen)
        {
            _latestSeen = wall;
        }
    }

    /// <summary>The wall time of a steady instant, by how far the two clocks are apart now.</summary>
    public Instant ToWall(Instant steady) => steady + (Wall - Steady);
}
