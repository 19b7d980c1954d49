using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Storage.Readings;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;

namespace Incubation.Service.Demo;

/// <summary>The simulated week, made once per start and shared by the seeding and the living demo.</summary>
internal sealed class DemoStory(IOptions<DemoSettings> settings, ServiceClock clock)
{
    private readonly Lazy<DemoWeek> _week = new(() => DemoWeek.Simulate(clock.Wall, settings.Value.Seed));

    public DemoWeek Week => _week.Value;

    public long Seed => settings.Value.Seed;
}

/// <summary>Writes incubators, probes, bands, call-out order and journal, once the records are open and before the facility is read.</summary>
internal sealed class SeedDemoRecords(
    IDbContextFactory<RecordsContext> contexts, DemoStory story, DemoReceivers receivers, ServiceClock clock) : IStartupStep
{
    public StartupStage Stage => StartupStage.Records;

    public async Task RunAsync(CancellationToken cancellationToken)
    {
        await using var records = await contexts.CreateDbContextAsync(cancellationToken);
        await DemoRecords.WriteAsync(records, story.Week, clock.Wall, story.Seed, receivers.WebhookAddress, cancellationToken);
    }
}

/// <summary>Stores the week's readings, once the store is open.</summary>
internal sealed class SeedDemoHistory(
    IDbContextFactory<RecordsContext> contexts, IReadingStore store, DemoStory story, ServiceClock clock) : IStartupStep
{
    public StartupStage Stage => StartupStage.Readings;

    public async Task RunAsync(CancellationToken cancellationToken)
    {
        await using var records = await contexts.CreateDbContextAsync(cancellationToken);
        if (await DemoRecords.AreSeededAsync(records, cancellationToken))
        {
            return;
        }
        await ImportAsync(store, story.Week.Readings, cancellationToken);
        await DemoRecords.MarkSeededAsync(records, clock.Wall, story.Seed, cancellationToken);
    }

    private static async Task ImportAsync(IReadingStore store, IReadOnlyList<Reading> readings, CancellationToken stop)
    {
        if (store is SqliteReadingStore sqlite)
        {
            await sqlite.ImportAsync(readings, stop);
            return;
        }
        foreach (var part in readings.Chunk(Core.Limits.CommitBatch))
        {
            await store.StoreAsync(part, stop);
        }
    }
}
