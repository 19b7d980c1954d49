namespace Incubation.Service.Hosting;

/// <summary>
/// When a failed worker starts again, and when to give up. Pure arithmetic on monotonic time; one instance per worker.
/// </summary>
internal sealed class RestartPolicy
{
    /// <summary>This many failures within <see cref="Window"/> are a fault that restarts don't mend.</summary>
    public const int MostFailures = 5;

    public static readonly TimeSpan Window = TimeSpan.FromMinutes(10);

    private readonly Queue<TimeSpan> _failures = new();

    /// <summary>Notes a failure at <paramref name="now"/> (monotonic). Returns the pause before the restart, or null to give up.</summary>
    public TimeSpan? Failed(TimeSpan now)
    {
        _failures.Enqueue(now);
        while (now - _failures.Peek() > Window)
        {
            _failures.Dequeue();
        }

        // 1, 2, 4, 8 s: five failures in a row are over in a quarter of a minute, and the process supervisor takes over.
        return _failures.Count >= MostFailures ? null : TimeSpan.FromSeconds(1 << (_failures.Count - 1));
    }
}
