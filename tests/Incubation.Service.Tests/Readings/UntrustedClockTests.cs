using System.Text.Json;
using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Readings;

public sealed class UntrustedClockTests
{
    private const string Topic = "incubation/hazel/hazel-air/temperature";

    [Fact]
    public async Task A_reading_that_arrives_while_the_clock_stands_in_the_past_is_kept_after_all_that_was_seen_and_marked()
    {
        Instant seen = Instant.FromUtc(2026, 11, 25, 9, 0);
        string directory = Directory.CreateTempSubdirectory("incubation-test-").FullName;
        new ClockFile(new DataPaths(Microsoft.Extensions.Options.Options.Create(new IncubationOptions { DataDirectory = directory }))).Write(seen);
        await using IntakeHost host = await IntakeHost.StartAsync(directory: directory);
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        Assert.False(host.Services.GetRequiredService<ClockTrust>().Now.Trusted);

        await probe.PublishAsync(Topic, "31.0");
        host.Time.Advance(TimeSpan.FromMinutes(3));
        await probe.PublishAsync(Topic, """{"value":31.1,"at":"2031-01-01T00:00:00Z"}""");

        IReadOnlyList<Reading> kept = host.Services.GetRequiredService<IReadingStore>().Read(
            new SeriesKey("hazel-air", Quantity.Temperature), Instant.FromUtc(2020, 1, 1, 0, 0), Instant.FromUtc(2040, 1, 1, 0, 0));
        Assert.Equal([seen, seen + Duration.FromMinutes(3)], kept.Select(r => r.At));
        Assert.All(kept, reading => Assert.True((reading.Marks & ReadingMarks.OwnClock) != 0));
        JsonElement view = (await host.GetAsync("/api/probes")).GetProperty("notPlaced")[0];
        Assert.Equal("good", view.GetProperty("series")[0].GetProperty("quality").GetString());
        Assert.Contains("own clock not trusted", view.GetProperty("series")[0].GetProperty("marks").EnumerateArray().Select(m => m.GetString()));
        Assert.Equal(JsonValueKind.Null, view.GetProperty("clockOffSeconds").ValueKind);
    }
}
