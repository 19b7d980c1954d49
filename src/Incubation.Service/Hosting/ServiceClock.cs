using NodaTime;

namespace Incubation.Service.Hosting;

/// <summary>
/// Time for the service. <see cref="Steady"/> never jumps: it starts at the wall clock and runs on the monotonic one, and alarms
/// use it; <see cref="Wall"/> is what people read.
/// </summary>
internal sealed class ServiceClock(TimeProvider time)
{
    private readonly Instant _start = Instant.FromDateTimeOffset(time.GetUtcNow());
    private readonly long _startTimestamp = time.GetTimestamp();

    public TimeProvider Provider => time;

    public Instant Steady => _start + Duration.FromTimeSpan(time.GetElapsedTime(_startTimestamp));

    public Instant Wall => Instant.FromDateTimeOffset(time.GetUtcNow());

    /// <summary>The wall time of a steady instant, by how far the two clocks are apart now.</summary>
    public Instant ToWall(Instant steady) => steady + (Wall - Steady);
}
