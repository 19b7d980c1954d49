using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Service.Probes;
using Incubation.Storage.Readings;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;

namespace Incubation.Service.Readings;

/// <summary>Opens the store and brings back what was known before the start: newest readings, probes, rejected messages.</summary>
internal sealed class ReadingsOpening(
    IReadingStore store, LatestReadings latest, TopicRoutes routes, ProbeRegister probes, RejectedMessages rejected,
    IDbContextFactory<RecordsContext> records) : IStartupStep
{
    public StartupStage Stage => StartupStage.Readings;

    public async Task RunAsync(CancellationToken cancellationToken)
    {
        if (store is SqliteReadingStore sqlite)
        {
            Open(sqlite);
        }

        await probes.LoadAsync(cancellationToken);
        await RejectedMessageRecorder.LoadAsync(rejected, records, cancellationToken);
        latest.Load(store);
        foreach (SeriesKey series in latest.Series)
        {
            if (latest.LatestGood(series) is { } good)
            {
                routes.Load(good);
            }
        }
    }

    private static void Open(SqliteReadingStore store)
    {
        try
        {
            store.Open();
        }
        catch (StoreUnavailableException error)
        {
            throw new StartException(error.Message, error);
        }
    }
}
