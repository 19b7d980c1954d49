using Incubation.Service.Hosting;

namespace Incubation.Service.Probes;

/// <summary>Writes newly heard probes into the records, behind the messages.</summary>
internal sealed class ProbeRecorder(WorkerSupport support, ProbeRegister register) : SupervisedWorker(support, "probe records")
{
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(5);

    protected override async Task RunAsync(CancellationToken stop)
    {
        while (true)
        {
            await register.NewsAsync(stop);
            try
            {
                await register.RecordAsync(stop);
                Progress();
            }
            catch (Exception error) when (error is not OperationCanceledException)
            {
                // A full disk may take hours to mend; the probes are known meanwhile, and the worker has not failed.
                Log.LogError(error, "New probes could not be written to the records; trying again in {Pause}", Pause);
                await Task.Delay(Pause, Time, stop);
            }
        }
    }
}
