using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Storage.Influx;
using Microsoft.Data.Sqlite;

namespace Incubation.Service.Readings;

/// <summary>
/// Works the copy for as long as the service runs. Whatever happens on the other side is an answer to be followed, and a readings file that
/// can't be read just now is waited for: neither may ever end the service.
/// </summary>
internal sealed class CopyWorker(WorkerSupport support, Copies copies, IReadingStore store) : SupervisedWorker(support, "copy to InfluxDB")
{
    private static readonly TimeSpan AfterTrouble = TimeSpan.FromSeconds(10);

    private string _said = "well";

    protected override async Task RunAsync(CancellationToken stop)
    {
        using InfluxCopy copy = copies.Begin(store, Time);
        while (true)
        {
            TimeSpan pause = await StepAsync(copy, stop);
            Progress();
            if (pause > TimeSpan.Zero)
            {
                Say(copy);
                await Task.Delay(pause, Time, stop);
            }
        }
    }

    private async Task<TimeSpan> StepAsync(InfluxCopy copy, CancellationToken stop)
    {
        try
        {
            return await copy.StepAsync(stop);
        }
        catch (Exception error) when (error is StoreUnavailableException or SqliteException)
        {
            Log.LogWarning(error, "The readings that are to be copied can't be read just now; it is tried again");
            return AfterTrouble;
        }
    }

    // Once for each change, not for each try.
    private void Say(InfluxCopy copy)
    {
        CopyCondition condition = copy.Condition;
        if (_said == condition.ToString())
        {
            return;
        }

        bool first = _said == "well";
        _said = condition.ToString();
        if (condition != CopyCondition.Well)
        {
            Log.LogWarning("{Words}", copy.Said);
        }
        else if (!first)
        {
            Log.LogInformation("InfluxDB takes readings again; what waited is copied");
        }
    }
}

/// <summary>Stands where the worker would: there is nothing to copy to, and so nothing to watch.</summary>
internal sealed class NoCopy : IHostedService
{
    public Task StartAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;
}
