using System.Net;
using System.Text.Json;
using Incubation.Core.Readings;
using Incubation.Service.Probes;
using Incubation.Service.Tests.Facility;
using Incubation.Service.Tests.Readings;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Probes;

public sealed class TroubleTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 3, 0);

    [Fact]
    public async Task A_stuck_probe_is_shown_with_its_evidence_and_is_still_known_after_a_restart()
    {
        string directory;
        await using (IntakeHost host = await StartAsync(Flickering(Duration.FromHours(3)), keep: true))
        {
            directory = host.Directory;
            host.Services.GetRequiredService<TroubleWorker>().Look();
            IsStuck(await ProbeAsync(host));
        }

        await using IntakeHost again = await IntakeHost.StartAsync(directory: directory);
        again.Services.GetRequiredService<TroubleWorker>().Look();
        IsStuck(await ProbeAsync(again));

        static void IsStuck(JsonElement probe)
        {
            JsonElement trouble = Assert.Single(probe.GetProperty("troubles").EnumerateArray());
            Assert.Equal("stuck", trouble.GetProperty("kind").GetString());
            Assert.Equal("temperature", trouble.GetProperty("quantity").GetString());
            Assert.StartsWith("hazel-air has said 31.5 °C without a flicker for 3 hours", trouble.GetProperty("words").GetString(), StringComparison.Ordinal);
            Assert.Equal(JsonValueKind.Null, trouble.GetProperty("against").ValueKind);
            Assert.Equal(2, trouble.GetProperty("evidence")[0].GetArrayLength());
        }
    }

    [Fact]
    public async Task A_well_probe_has_no_trouble_and_one_that_is_taken_out_is_not_judged()
    {
        await using IntakeHost host = await StartAsync(Flickering(Duration.Zero));
        TroubleWorker worker = host.Services.GetRequiredService<TroubleWorker>();
        worker.Look();
        Assert.Equal(0, (await ProbeAsync(host)).GetProperty("troubles").GetArrayLength());

        using HttpResponseMessage taken = await host.DeleteAsync("/api/probes/hazel-air/placements/current");
        worker.Look();

        Assert.Empty(host.Services.GetRequiredService<TroubleWatch>().All);
    }

    [Fact]
    public async Task Least_and_most_count_from_the_last_look_of_the_person_who_asks()
    {
        await using IntakeHost host = await StartAsync();
        Assert.Equal(JsonValueKind.Null, Series(await ProbeAsync(host)).GetProperty("sinceLooked").ValueKind);

        using HttpResponseMessage looked = await host.PostAsync("/api/probes/hazel-air/looks", new { });
        Assert.Equal(HttpStatusCode.NoContent, looked.StatusCode);
        host.Time.Advance(TimeSpan.FromMinutes(30));
        await StoreAsync(host, "hazel-air", [(Now - Duration.FromMinutes(1), 25), (Now + Duration.FromMinutes(5), 31.2), (Now + Duration.FromMinutes(10), 32.8), (Now + Duration.FromMinutes(15), 30.9)]);

        JsonElement since = Series(await ProbeAsync(host)).GetProperty("sinceLooked");
        Assert.Equal(30.9, since.GetProperty("least").GetDouble());
        Assert.Equal("2026-11-25T03:15:00Z", since.GetProperty("leastAt").GetString());
        Assert.Equal(32.8, since.GetProperty("most").GetDouble());
        Assert.Equal("2026-11-25T03:10:00Z", since.GetProperty("mostAt").GetString());

        using HttpResponseMessage again = await host.PostAsync("/api/probes/hazel-air/looks", new { });
        Assert.Equal(JsonValueKind.Null, Series(await ProbeAsync(host)).GetProperty("sinceLooked").ValueKind);
        using HttpResponseMessage unknown = await host.PostAsync("/api/probes/nobody/looks", new { });
        Assert.Equal(HttpStatusCode.NotFound, unknown.StatusCode);
    }

    [Fact]
    public async Task A_correction_is_shown_beside_the_value_as_measured()
    {
        await using IntakeHost host = await StartAsync();
        SeriesKey series = new("hazel-air", Quantity.Temperature);
        host.Services.GetRequiredService<CalibrationBook>().Saved(new CalibrationEntry(
            Guid.CreateVersion7(), series, Now - Duration.FromDays(1), CalibrationMethod.IceBath, [new CalibrationPoint(0.3, 0)], null, "", null, "Ada", Now));
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        host.Time.Advance(TimeSpan.FromMinutes(1));
        await probe.PublishAsync("incubation/hazel/hazel-air/temperature", "31.8");

        JsonElement shown = Series(await ProbeAsync(host));

        Assert.Equal(31.5, shown.GetProperty("value").GetDouble(), 1e-9);
        Assert.Equal(31.8, shown.GetProperty("measured").GetDouble(), 1e-9);
        Assert.Equal(-0.3, shown.GetProperty("correction").GetProperty("offset").GetDouble(), 1e-9);
        Assert.Equal("2026-11-24T03:00:00Z", shown.GetProperty("correction").GetProperty("from").GetString());
    }

    [Fact]
    public async Task A_placement_keeps_its_tub_and_one_that_there_is_not_is_refused()
    {
        await using IntakeHost host = await StartAsync();
        await using (RecordsContext context = await host.Services.GetRequiredService<IDbContextFactory<RecordsContext>>()
            .CreateDbContextAsync(TestContext.Current.CancellationToken))
        {
            context.Tubs.Add(new TubRecord { Key = "tub-1", Name = "Tub 1", Substrate = "vermiculite", By = "Ada", EnteredAt = Now });
            await context.SaveChangesAsync(TestContext.Current.CancellationToken);
        }

        using HttpResponseMessage wrong = await host.PostAsync("/api/probes/hazel-air/placements", new { incubator = "hazel", where = "between eggs", tub = "tub-9" });
        await Problem.Is(wrong, HttpStatusCode.BadRequest, "tub");
        host.Time.Advance(TimeSpan.FromMinutes(1));
        using HttpResponseMessage right = await host.PostAsync("/api/probes/hazel-air/placements", new { incubator = "hazel", where = "between eggs", tub = "tub-1" });

        Assert.Equal(HttpStatusCode.Created, right.StatusCode);
        Assert.Equal("tub-1", (await ProbeAsync(host)).GetProperty("tub").GetString());
    }

    // A probe placed two days and a half ago, entered when its readings were stored already: whenever the worker first looks, it sees all.
    private static async Task<IntakeHost> StartAsync((Instant At, double Value)[]? past = null, bool keep = false)
    {
        IntakeHost host = await IntakeHost.StartAsync(keep: keep);
        string key = await host.AddIncubatorAsync("Hazel");
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        await probe.PublishAsync("incubation/hazel/hazel-air/temperature", "31.5");
        await StoreAsync(host, "hazel-air", past ?? []);
        using HttpResponseMessage placed = await host.PostAsync(
            "/api/probes/hazel-air/placements", new { incubator = key, where = "air", from = "2026-11-22T12:00:00Z" });
        Assert.Equal(HttpStatusCode.Created, placed.StatusCode);
        return host;
    }

    // By the minute: a slow swing with a flicker, and at the end nothing but 31.5.
    private static (Instant At, double Value)[] Flickering(Duration stuckFor)
        =>
        [
            .. Enumerable.Range(1, 60 * 60).Select(i => Now - Duration.FromMinutes(i)).Select(at => (at, at >= Now - stuckFor ? 31.5
                : Math.Round(31.5 + (0.4 * Math.Sin((at - Now).TotalHours / 3.8)) + (0.02 * ((at.ToUnixTimeSeconds() / 60 * 7919) % 3)), 2))),
        ];

    private static async Task StoreAsync(IntakeHost host, string probe, (Instant At, double Value)[] values)
    {
        SeriesKey series = new(probe, Quantity.Temperature);
        Reading[] readings = [.. values.Select(v => new Reading(series, v.Value, v.At, v.At, ReadingMarks.None))];
        await host.Services.GetRequiredService<IReadingStore>().StoreAsync(readings, TestContext.Current.CancellationToken);
    }

    private static async Task<JsonElement> ProbeAsync(IntakeHost host) => (await host.GetAsync("/api/probes")).GetProperty("placed")[0];

    private static JsonElement Series(JsonElement probe) => probe.GetProperty("series")[0];
}
