using System.Text.Json;
using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Storage.Readings;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Options;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Readings;

public sealed class KeepingTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Keeping_says_what_the_file_holds_and_has_every_field()
    {
        await using IntakeHost host = await IntakeHost.StartAsync(settings: options => options.Readings.KeepDays["signal"] = 30);
        Instant start = Instant.FromUtc(2026, 11, 20, 0, 0);
        await Store(host, start, 5);

        JsonElement keeping = await host.GetAsync("/api/readings/keeping");

        Assert.Equal(["store", "spool", "retention", "copy", "source", "clock"], keeping.EnumerateObject().Select(field => field.Name));
        JsonElement store = keeping.GetProperty("store");
        Assert.Equal("well", store.GetProperty("kind").GetString());
        Assert.True(store.GetProperty("bytes").GetInt64() > 0);
        Assert.Equal(5, store.GetProperty("rawDays").GetInt64());
        Assert.Equal("2026-11-20T00:00:00Z", store.GetProperty("oldest").GetString());
        JsonElement kept = Assert.Single(keeping.GetProperty("retention").EnumerateArray());
        Assert.Equal(("signal", 30), (kept.GetProperty("quantity").GetString(), kept.GetProperty("days").GetInt32()));
    }

    [Fact]
    public async Task Keeping_has_every_word_that_its_page_reads()
    {
        // Kept in step by hand with `Keeping` of grafana-free-dashboards/src/http/probeShapes.ts.
        await using IntakeHost host = await IntakeHost.StartAsync(
            settings: options => (options.Influx.Url, options.Readings.KeepDays["signal"]) = ("http://127.0.0.1:9", 30));
        JsonElement keeping = default;
        await Eventually.True(
            async () => (keeping = await host.GetAsync("/api/readings/keeping")).GetProperty("copy").ValueKind == JsonValueKind.Object, "the copy begins");

        Assert.Equal(["kind", "words", "bytes", "oldest", "sealedDays", "rawDays", "lastCheck"], Names(keeping.GetProperty("store")));
        Assert.Equal(["usedBytes", "bytes"], Names(keeping.GetProperty("spool")));
        Assert.Equal(["quantity", "days"], Names(keeping.GetProperty("retention")[0]));
        Assert.Equal(["kind", "state", "behind", "behindDays", "oldestWaiting", "refused", "words"], Names(keeping.GetProperty("copy")));
        Assert.Equal(["kind", "state", "since", "heartbeatAt", "words"], Names(keeping.GetProperty("source")));
        Assert.Equal(["trusted", "words"], Names(keeping.GetProperty("clock")));
        Assert.Equal((0, true), (keeping.GetProperty("spool").GetProperty("usedBytes").GetInt64(), keeping.GetProperty("spool").GetProperty("bytes").GetInt64() > 0));
        Assert.Equal(("embedded", "InfluxDB"), (keeping.GetProperty("source").GetProperty("kind").GetString(), keeping.GetProperty("copy").GetProperty("kind").GetString()));
        Assert.True(keeping.GetProperty("clock").GetProperty("trusted").GetBoolean());

        static IEnumerable<string> Names(JsonElement part) => part.EnumerateObject().Select(field => field.Name);
    }

    [Fact]
    public async Task Nothing_is_sealed_or_deleted_while_the_clock_is_not_trusted()
    {
        string directory = Directory.CreateTempSubdirectory("incubation-test-").FullName;
        new ClockFile(new DataPaths(Options.Create(new IncubationOptions { DataDirectory = directory }))).Write(Instant.FromUtc(2026, 12, 24, 0, 0));
        await using IntakeHost host = await IntakeHost.StartAsync(settings: options => options.Readings.KeepDays["temperature"] = 2, directory: directory);
        await Store(host, Instant.FromUtc(2026, 11, 18, 0, 0), 6);
        WorkerPulse keeper = host.Services.GetRequiredService<WorkerBoard>().Pulses.Single(pulse => pulse.Name == "readings keeping");

        // The clock of the host stands still by itself; each round of the keeper begins its progress anew.
        (int rounds, double before) = (0, 0);
        await Eventually.True(
            () =>
            {
                host.Time.Advance(TimeSpan.FromMinutes(1));
                double since = keeper.Health().SecondsSinceProgress;
                (rounds, before) = (since < before ? rounds + 1 : rounds, since);
                return rounds >= 3;
            },
            "the keeper goes round");

        JsonElement store = (await host.GetAsync("/api/readings/keeping")).GetProperty("store");
        Assert.False(host.Services.GetRequiredService<ClockTrust>().Now.Trusted);
        Assert.Equal((0, 6), (store.GetProperty("sealedDays").GetInt64(), store.GetProperty("rawDays").GetInt64()));
        Assert.Equal(JsonValueKind.Null, store.GetProperty("lastCheck").ValueKind);
    }

    [Fact]
    public async Task Days_that_are_over_are_sealed_old_ones_deleted_and_the_file_looked_over_at_night()
    {
        await using IntakeHost host = await IntakeHost.StartAsync(
            services => services.AddSingleton<IKeptDays>(new FirstDay()), options => options.Readings.KeepDays["temperature"] = 2);
        await Store(host, Instant.FromUtc(2026, 11, 18, 0, 0), 6);

        // 3 o'clock at night on the 25th: the 18th must stay, the 19th to 22nd are too old, the 23rd is sealed.
        await UntilAsync(host, store => store.GetProperty("lastCheck").ValueKind == JsonValueKind.Object);

        JsonElement store = (await host.GetAsync("/api/readings/keeping")).GetProperty("store");
        Assert.Equal((2, 0), (store.GetProperty("sealedDays").GetInt64(), store.GetProperty("rawDays").GetInt64()));
        Assert.True(store.GetProperty("lastCheck").GetProperty("ok").GetBoolean());
        IReadOnlyList<Reading> left = host.Services.GetRequiredService<IReadingStore>()
            .Read(new SeriesKey("hazel-air", Quantity.Temperature), Instant.FromUtc(2026, 1, 1, 0, 0), Instant.FromUtc(2027, 1, 1, 0, 0));
        Assert.Equal([18, 23], left.Select(r => r.At.InUtc().Day).Distinct());
    }

    private static Task Store(IntakeHost host, Instant start, int days) => ((SqliteReadingStore)host.Services.GetRequiredService<IReadingStore>())
        .ImportAsync(
            Enumerable.Range(0, days * 24).Select(i => new Reading(
                new SeriesKey("hazel-air", Quantity.Temperature), 31, start + Duration.FromHours(i), start + Duration.FromHours(i), ReadingMarks.None)),
            Token);

    private static async Task UntilAsync(IntakeHost host, Func<JsonElement, bool> holds)
    {
        // The clock of the host stands still by itself: each look lets a minute pass.
        using CancellationTokenSource patience = new(TimeSpan.FromSeconds(60));
        using PeriodicTimer look = new(TimeSpan.FromMilliseconds(50), TimeProvider.System);
        while (!holds((await host.GetAsync("/api/readings/keeping")).GetProperty("store")))
        {
            host.Time.Advance(TimeSpan.FromMinutes(1));
            await look.WaitForNextTickAsync(patience.Token);
        }
    }

    private sealed class FirstDay : IKeptDays
    {
        public bool MustKeep(SeriesKey series, Instant from, Instant to) => from == Instant.FromUtc(2026, 11, 18, 0, 0);
    }
}
