using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Service.Probes;
using Incubation.Storage.Readings;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;

namespace Incubation.Service.Readings;

/// <summary>Opens the store.</summary>
internal sealed class ReadingsOpening(IReadingStore store) : IStartupStep
{
    public StartupStage Stage => StartupStage.Readings;

    public Task RunAsync(CancellationToken cancellationToken)
    {
        if (store is SqliteReadingStore sqlite)
        {
            try
            {
                sqlite.Open();
            }
            catch (StoreUnavailableException error)
            {
                throw new StartException(error.Message, error);
            }
        }

        return Task.CompletedTask;
    }
}

/// <summary>Brings back what was known before the start: newest readings, probes, rejected messages.</summary>
internal sealed class ReadingsRecall(
    IReadingStore store, LatestReadings latest, TopicRoutes routes, ProbeRegister probes, RejectedMessages rejected,
    IDbContextFactory<RecordsContext> records) : IStartupStep
{
    public StartupStage Stage => StartupStage.Recall;

    public async Task RunAsync(CancellationToken cancellationToken)
    {
        await probes.LoadAsync(cancellationToken);
        await RejectedMessageRecorder.LoadAsync(rejected, records, cancellationToken);
        latest.Load(store);
        foreach (SeriesKey series in latest.Series)
        {
            // The next value is judged as the probe says it.
            if (latest.LatestGoodMeasured(series) is { } good)
            {
                routes.Load(good);
            }
        }
    }
}
