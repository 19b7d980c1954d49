using System.Collections.Concurrent;

namespace Incubation.Service.Hosting;

/// <summary>The pulses of all workers; <c>/healthz</c> reads it.</summary>
internal sealed class WorkerBoard(TimeProvider time)
{
    private readonly ConcurrentQueue<WorkerPulse> _pulses = new();

    /// <summary>Timestamp that monotonic times of the workers count from.</summary>
    public long Epoch { get; } = time.GetTimestamp();

    public IReadOnlyCollection<WorkerPulse> Pulses => [.. _pulses];

    public WorkerPulse Register(string name, TimeSpan? stallsAfter)
    {
        var pulse = new WorkerPulse(time, name, stallsAfter);
        _pulses.Enqueue(pulse);
        return pulse;
    }
}

/// <summary>One worker's sign of life. Safe from any thread.</summary>
internal sealed class WorkerPulse(TimeProvider time, string name, TimeSpan? stallsAfter)
{
    private readonly Lock _gate = new();
    private long _beatAt = time.GetTimestamp();
    private bool _failed;
    private bool _running;
    private int _failures;

    public string Name => name;

    public void Begin()
    {
        lock (_gate)
        {
            _running = true;
            _beatAt = time.GetTimestamp();
        }
    }

    public void Beat()
    {
        lock (_gate)
        {
            _beatAt = time.GetTimestamp();
            _failed = false;
        }
    }

    public void Fail()
    {
        lock (_gate)
        {
            _running = false;
            _failed = true;
            _failures++;
        }
    }

    public void Stop()
    {
        lock (_gate)
        {
            _running = false;
        }
    }

    /// <summary>How it is now, in one word and with the seconds since its last sign of life.</summary>
    public WorkerHealth Health()
    {
        lock (_gate)
        {
            TimeSpan since = time.GetElapsedTime(_beatAt);
            string state = !_running ? (_failed ? "failed" : "stopped") : since > stallsAfter ? "stalled" : "running";
            return new WorkerHealth(name, state, Math.Round(since.TotalSeconds, 1), _failures);
        }
    }
}

/// <summary>One line of <c>/healthz</c>. Error texts stay in the log: this answer goes to anyone who asks.</summary>
internal sealed record WorkerHealth(string Name, string State, double SecondsSinceProgress, int Failures)
{
    public bool IsWell => State == "running";
}
