using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Storage.Readings;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.Options;
using NodaTime;

namespace Incubation.Service.Demo;

/// <summary>What led to now, simulated: the last week at each start, since the living demo goes on from it; all before it only for the seeding.</summary>
internal sealed class DemoStory(IOptions<DemoSettings> settings, IOptions<IncubationOptions> options, ServiceClock clock)
{
    private readonly Lazy<DemoWeek> _week = new(() => DemoWeek.Simulate(clock.Wall, settings.Value.Seed));
    private DemoPast? _past;

    public DemoWeek Week => _week.Value;

    public DemoCalendar Calendar { get; } = new(clock.Wall, DateTimeZoneProviders.Tzdb[options.Value.Facility.Zone]);

    public long Seed => settings.Value.Seed;

    /// <summary>Made when first asked for, and kept until <see cref="ForgetPast"/>: it is hundreds of thousands of readings.</summary>
    public DemoPast Past() => _past ??= DemoPast.Simulate(Calendar, Week, Seed);

    public void ForgetPast() => _past = null;
}

/// <summary>Writes incubators, probes, bands, call-out order, journal and clutches, once the records are open and before they are read.</summary>
internal sealed class SeedDemoRecords(
    IDbContextFactory<RecordsContext> contexts, DemoStory story, DemoReceivers receivers) : IStartupStep
{
    public StartupStage Stage => StartupStage.Records;

    public async Task RunAsync(CancellationToken cancellationToken)
    {
        await using var records = await contexts.CreateDbContextAsync(cancellationToken);
        await DemoRecords.WriteAsync(records, story.Past, story.Calendar, receivers.WebhookAddress, cancellationToken);
    }
}

/// <summary>Stores the readings of the past, once the store is open and before the newest are read from it.</summary>
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
        await ImportAsync(store, story.Past().Readings, cancellationToken);
        story.ForgetPast();
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
