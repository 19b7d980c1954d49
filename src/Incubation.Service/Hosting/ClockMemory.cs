namespace Incubation.Service.Hosting;

/// <summary>
/// Remembers the latest wall time across starts, so that a clock that woke up in the past is noticed, and looks whether the clock can be believed.
/// A setback over a start of up to <see cref="Every"/> goes unnoticed; it costs nothing.
/// </summary>
internal sealed class ClockMemory(WorkerSupport support, ServiceClock clock, ClockFile file, IClockSync sync, ClockTrust trust)
    : SupervisedWorker(support, "clock memory", stallsAfter: 3 * Every), IStartupStep
{
    /// <summary>Seldom, for the memory card's sake.</summary>
    public static readonly TimeSpan Every = TimeSpan.FromMinutes(10);

    private static readonly TimeSpan Look = TimeSpan.FromSeconds(30);

    private bool _couldWrite = true;

    public StartupStage Stage => StartupStage.House;

    Task IStartupStep.RunAsync(CancellationToken cancellationToken)
    {
        clock.Begin(file.Read(), sync.Synced());
        if (!clock.Trusted)
        {
            Log.LogWarning("{Words}", trust.Now.Words);
        }

        return Task.CompletedTask;
    }

    protected override async Task RunAsync(CancellationToken stop)
    {
        using var timer = new PeriodicTimer(Look, Time);
        bool trusted = clock.Trusted;
        Write();
        long written = Time.GetTimestamp();
        try
        {
            while (await timer.WaitForNextTickAsync(stop))
            {
                bool now = clock.Check(sync.Synced());
                if (now != trusted)
                {
                    trusted = now;
                    trust.Changed(now);
                    Log.LogWarning("{Words}", trust.Now.Words);
                }

                if (Time.GetElapsedTime(written) >= Every)
                {
                    Write();
                    written = Time.GetTimestamp();
                }

                Progress();
            }
        }
        finally
        {
            Write();
        }
    }

    // While the clock is doubted this is the earliest it can be: after another power cut it goes on from there.
    private void Write()
    {
        try
        {
            file.Write(clock.Wall);
            _couldWrite = true;
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            // A full disk must not end the service; the time is written when there is room again.
            if (_couldWrite)
            {
                Log.LogError(error, "The time could not be written to the data directory; it is tried again every {Every}", Every);
            }

            _couldWrite = false;
        }
    }
}
