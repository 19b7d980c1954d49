using System.Text.Json;
using Incubation.Core.Readings;
using Incubation.Storage.Readings;
using Microsoft.Extensions.DependencyInjection;
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
