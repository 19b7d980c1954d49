using System.Globalization;
using NodaTime;

namespace Incubation.Service.Hosting;

/// <summary>
/// Remembers the latest wall time across starts, so that a clock that woke up in the past is noticed. A setback of up to
/// <see cref="Every"/> goes unnoticed; it costs nothing.
/// </summary>
internal sealed class ClockMemory(WorkerSupport support, ServiceClock clock, DataPaths paths)
    : SupervisedWorker(support, "clock memory", stallsAfter: 3 * Every), IStartupStep
{
    public static readonly TimeSpan Every = TimeSpan.FromMinutes(10);

    public StartupStage Stage => StartupStage.House;

    async Task IStartupStep.RunAsync(CancellationToken cancellationToken)
    {
        if (File.Exists(paths.Clock)
            && long.TryParse(await File.ReadAllTextAsync(paths.Clock, cancellationToken), NumberStyles.None, CultureInfo.InvariantCulture, out long milliseconds)
            && milliseconds <= Instant.MaxValue.ToUnixTimeMilliseconds())
        {
            clock.Seen(Instant.FromUnixTimeMilliseconds(milliseconds));
        }

        if (!clock.Trusted)
        {
            Log.LogWarning("The clock of this machine stands before a time it has shown already. Alarms go on; dates can't be trusted until it is set");
        }
    }

    protected override async Task RunAsync(CancellationToken stop)
    {
        using var timer = new PeriodicTimer(Every, Time);
        do
        {
            if (clock.Trusted)
            {
                await WriteAsync(stop);
            }

            Progress();
        }
        while (await timer.WaitForNextTickAsync(stop));
    }

    // A new file and a rename: a power cut leaves the old time or the new one, never half a number.
    private async Task WriteAsync(CancellationToken stop)
    {
        string fresh = paths.Clock + ".new";
        await File.WriteAllTextAsync(fresh, clock.Wall.ToUnixTimeMilliseconds().ToString(CultureInfo.InvariantCulture), stop);
        File.Move(fresh, paths.Clock, overwrite: true);
    }
}
