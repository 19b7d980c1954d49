using Incubation.Core.Readings;
using Incubation.Service.Demo;
using Incubation.Service.Hosting;
using Incubation.Service.Readings;
using Incubation.Storage.Readings;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using Microsoft.Extensions.Options;
using Microsoft.Extensions.Time.Testing;
using Xunit;

namespace Incubation.Service.Tests.Demo;

public sealed class DemoSeedingTests : IAsyncLifetime
{
    private readonly string _directory = Directory.CreateTempSubdirectory("incubation-seeding-").FullName;
    private readonly ServiceClock _clock = new(new FakeTimeProvider(new DateTimeOffset(2026, 11, 25, 3, 4, 5, TimeSpan.Zero)));
    private readonly DemoStory _story;
    private ServiceProvider _provider = null!;
    private IDbContextFactory<RecordsContext> _contexts = null!;
    private SqliteReadingStore _store = null!;

    public DemoSeedingTests() => _story = new DemoStory(Options.Create(new DemoSettings()), Options.Create(new IncubationOptions()), _clock);

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _provider = new ServiceCollection()
            .AddDbContextFactory<RecordsContext>(o => RecordsOpening.Configure(o, Path.Combine(_directory, "records.db"), pooling: false))
            .BuildServiceProvider();
        _contexts = _provider.GetRequiredService<IDbContextFactory<RecordsContext>>();
        await new RecordsOpening(_contexts).MigrateAsync(Stop);
        _store = new SqliteReadingStore(new SqliteReadingStoreOptions { Path = Path.Combine(_directory, "readings.db") });
        _store.Open();
    }

    public async ValueTask DisposeAsync()
    {
        await _store.DisposeAsync();
        await _provider.DisposeAsync();
        Directory.Delete(_directory, recursive: true);
    }

    private async Task<Uri> SeedAsync()
    {
        await using var receivers = await DemoReceivers.StartAsync(NullLogger<DemoReceivers>.Instance);
        await new SeedDemoRecords(_contexts, _story, receivers).RunAsync(Stop);
        await new SeedDemoHistory(_contexts, _store, _story, _clock).RunAsync(Stop);
        return receivers.WebhookAddress;
    }

    [Fact]
    public async Task Seeding_fills_an_empty_facility_and_its_history()
    {
        await SeedAsync();
        await using var records = await _contexts.CreateDbContextAsync(Stop);
        Assert.Equal(5, await records.Incubators.CountAsync(Stop));
        Assert.Equal(9, await records.Placements.CountAsync(Stop));
        Assert.Equal(10, await records.Bands.CountAsync(Stop));
        Assert.NotEmpty(await records.AlarmJournal.ToListAsync(Stop));
        var hazel = _store.Read(new SeriesKey("hazel-air", Quantity.Temperature), _clock.Wall - DemoWeek.Length, _clock.Wall);
        Assert.InRange(hazel.Count, 2_000, 2_017);
        Assert.True(_clock.Wall - hazel[^1].At <= NodaTime.Duration.FromMinutes(5));
    }

    [Fact]
    public async Task Clutches_eggs_and_looks_are_in_the_records_and_the_readings_of_all_seasons_in_the_store()
    {
        await SeedAsync();
        await using var records = await _contexts.CreateDbContextAsync(Stop);
        Assert.Equal(DemoClutches.All.Count, await records.Clutches.CountAsync(Stop));
        Assert.Equal(DemoClutches.All.Sum(c => c.Eggs), await records.Eggs.CountAsync(Stop));
        Assert.Equal(0, await records.Candlings.CountAsync(c => !records.Eggs.Any(e => e.Id == c.Egg), Stop));
        Assert.True(await records.Candlings.CountAsync(Stop) > 200);
        var night = DemoEvents.HeaterStuckAt(_story.Calendar);
        Assert.Contains(
            _store.Read(new SeriesKey("linden-eggs", Quantity.Temperature), night, night + NodaTime.Duration.FromHours(8)), r => r.Value > 36);
    }

    [Fact]
    public void The_history_is_stored_before_the_newest_readings_are_recalled_so_that_the_first_page_has_its_last_hour()
        => Assert.True(new SeedDemoHistory(_contexts, _store, _story, _clock).Stage < new ReadingsRecall(null!, null!, null!, null!, null!, null!).Stage);

    [Fact]
    public async Task Every_call_of_the_demo_goes_to_this_machine_or_to_an_address_that_cannot_exist()
    {
        await SeedAsync();
        await using var records = await _contexts.CreateDbContextAsync(Stop);
        var steps = await records.CallSteps.OrderBy(s => s.Position).ToListAsync(Stop);
        Assert.Equal(["mail", "webhook"], steps.Select(s => s.Channel));
        Assert.EndsWith(".invalid", steps[0].Address, StringComparison.Ordinal);
        Assert.True(new Uri(steps[1].Address).IsLoopback);
        Assert.Equal(32, Convert.FromBase64String(steps[1].Secret!["whsec_".Length..]).Length);
    }

    [Fact]
    public async Task Seeding_again_changes_nothing_but_where_the_receiver_listens()
    {
        await SeedAsync();
        var count = _store.Latest().Count;
        var second = await SeedAsync();
        await using var records = await _contexts.CreateDbContextAsync(Stop);
        Assert.Equal(5, await records.Incubators.CountAsync(Stop));
        Assert.Equal(10, await records.Bands.CountAsync(Stop));
        Assert.Equal(count, _store.Latest().Count);
        Assert.Equal(second.ToString(), (await records.CallSteps.SingleAsync(s => s.Channel == "webhook", Stop)).Address);
    }

    [Fact]
    public async Task A_seeding_that_was_cut_off_before_the_history_is_made_whole_by_the_next()
    {
        await using (var receivers = await DemoReceivers.StartAsync(NullLogger<DemoReceivers>.Instance))
        {
            await new SeedDemoRecords(_contexts, _story, receivers).RunAsync(Stop);
        }
        Assert.Empty(_store.Latest());
        await SeedAsync();
        Assert.NotEmpty(_store.Latest());
    }
}
