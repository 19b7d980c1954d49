namespace Incubation.Service.Hosting;

/// <summary>
/// A part of the service that must run for as long as the service does. A failure is logged and the worker is started again after a
/// pause; one that keeps failing ends the process with exit code 70, so that whatever supervises the process can act.
/// It is deliberately never left dead inside a process that looks alive.
/// </summary>
internal abstract class SupervisedWorker : BackgroundService
{
    private readonly WorkerSupport _support;
    private readonly WorkerPulse _pulse;

    /// <param name="support">What every worker needs; resolve it from the container.</param>
    /// <param name="name">Name in plain words, for the log and <c>/healthz</c>: "mail", "journal writer".</param>
    /// <param name="stallsAfter">Longest time between two calls of <see cref="Progress"/>, or null when it may wait for work for ever.</param>
    protected SupervisedWorker(WorkerSupport support, string name, TimeSpan? stallsAfter = null)
    {
        _support = support;
        _pulse = support.Board.Register(name, stallsAfter);
        Log = support.Logs.CreateLogger(GetType());
    }

    protected ILogger Log { get; }

    protected TimeProvider Time => _support.Time;

    /// <summary>The work. Runs until the token is cancelled; returning earlier counts as a failure.</summary>
    protected abstract Task RunAsync(CancellationToken stop);

    /// <summary>Says "still at work": proves health on the monotonic clock, whatever the wall clock does.</summary>
    protected void Progress() => _pulse.Beat();

    protected sealed override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        var restarts = new RestartPolicy();
        while (!stoppingToken.IsCancellationRequested)
        {
            Exception? error = await RunOnceAsync(stoppingToken);
            if (stoppingToken.IsCancellationRequested)
            {
                break;
            }

            TimeSpan? pause = restarts.Failed(_support.Time.GetElapsedTime(_support.Board.Epoch));
            _pulse.Fail();
            error ??= new InvalidOperationException("It ended although nobody stopped it.");
            if (pause is null)
            {
                Log.LogCritical(error, "{Worker} failed {Count} times within {Window}; the service ends so that it can be started afresh",
                    _pulse.Name, RestartPolicy.MostFailures, RestartPolicy.Window);
                _support.Fate.Fail(ExitCodes.WorkerGaveUp);
                return;
            }

            Log.LogError(error, "{Worker} failed; it starts again in {Pause}", _pulse.Name, pause.Value);
            await PauseAsync(pause.Value, stoppingToken);
        }

        _pulse.Stop();
    }

    private async Task<Exception?> RunOnceAsync(CancellationToken stop)
    {
        try
        {
            _pulse.Begin();
            await RunAsync(stop);
            return null;
        }
#pragma warning disable CA1031 // The one place where every failure of a worker is caught: it is logged, counted and acted on.
        catch (Exception error)
#pragma warning restore CA1031
        {
            return error;
        }
    }

    private async Task PauseAsync(TimeSpan pause, CancellationToken stop)
    {
        try
        {
            await Task.Delay(pause, _support.Time, stop);
        }
        catch (OperationCanceledException)
        {
            // Stopping: the loop sees it.
        }
    }
}

/// <summary>What every supervised worker needs.</summary>
internal sealed record WorkerSupport(TimeProvider Time, WorkerBoard Board, ServiceFate Fate, ILoggerFactory Logs);
