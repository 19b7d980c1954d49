namespace Incubation.Service.Probes;

/// <summary>Writes newly heard probes into the records, behind the messages.</summary>
internal sealed class ProbeRecorder(ProbeRegister register, TimeProvider time, ILogger<ProbeRecorder> log) : BackgroundService
{
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(5);

    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        while (!stoppingToken.IsCancellationRequested)
        {
            try
            {
                await register.NewsAsync(stoppingToken);
                await register.RecordAsync(stoppingToken);
            }
            catch (Exception error) when (error is not OperationCanceledException)
            {
                log.LogError(error, "New probes could not be written to the records; trying again in {Pause}", Pause);
                await Task.Delay(Pause, time, stoppingToken);
            }
        }
    }
}
