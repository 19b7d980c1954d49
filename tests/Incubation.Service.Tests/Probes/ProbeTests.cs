using System.Net;
using System.Text.Json;
using Incubation.Service.Tests.Facility;
using Incubation.Service.Tests.Readings;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace Incubation.Service.Tests.Probes;

public sealed class ProbeTests
{
    private const string Topic = "incubation/hazel/hazel-air/temperature";

    [Fact]
    public async Task A_probe_never_seen_before_is_not_yet_placed_and_is_placed_in_one_step()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        string key = await host.AddIncubatorAsync("Hazel");
        await probe.PublishAsync(Topic, "31.4");
        JsonElement before = await host.GetAsync("/api/probes");
        Assert.Equal("hazel-air", before.GetProperty("notPlaced")[0].GetProperty("key").GetString());
        Assert.Equal(0, before.GetProperty("placed").GetArrayLength());

        await host.PlaceAsync("hazel-air", key, "air, upper shelf");

        JsonElement placed = (await host.GetAsync("/api/probes")).GetProperty("placed")[0];
        Assert.Equal("Hazel", placed.GetProperty("incubatorName").GetString());
        Assert.Equal("air, upper shelf", placed.GetProperty("where").GetString());
        Assert.Equal("2026-11-25T03:00:00Z", placed.GetProperty("placedSince").GetString());
        Assert.Equal("hazel-air", (await host.GetAsync($"/api/incubators/{key}")).GetProperty("probes")[0].GetProperty("key").GetString());
    }

    [Fact]
    public async Task A_new_probe_is_written_to_the_records_behind_its_first_message()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);

        await probe.PublishAsync(Topic, "31.4");

        IDbContextFactory<RecordsContext> records = host.Services.GetRequiredService<IDbContextFactory<RecordsContext>>();
        await Eventually.True(
            async () =>
            {
                await using RecordsContext context = await records.CreateDbContextAsync(TestContext.Current.CancellationToken);
                return await context.Probes.AnyAsync(p => p.Key == "hazel-air", TestContext.Current.CancellationToken);
            },
            "the probe is in the records");
    }

    [Fact]
    public async Task A_move_ends_where_the_probe_was_at_the_same_moment_and_a_second_tap_changes_nothing()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        await probe.PublishAsync(Topic, "31.4");
        string hazel = await host.AddIncubatorAsync("Hazel"), rowan = await host.AddIncubatorAsync("Rowan");

        await host.PlaceAsync("hazel-air", hazel);
        host.Time.Advance(TimeSpan.FromMinutes(10));
        await host.PlaceAsync("hazel-air", rowan, "tub 2");
        await host.PlaceAsync("hazel-air", rowan, "tub 2");

        await using RecordsContext context = await host.Services.GetRequiredService<IDbContextFactory<RecordsContext>>()
            .CreateDbContextAsync(TestContext.Current.CancellationToken);
        List<PlacementRecord> rows = await context.Placements.OrderBy(p => p.From).ToListAsync(TestContext.Current.CancellationToken);
        Assert.Equal(2, rows.Count);
        Assert.Equal(rows[0].Until, rows[1].From);
        Assert.Null(rows[1].Until);
        Assert.Equal("Ada", rows[1].By);
    }

    [Theory]
    [InlineData("2026-11-25T03:30:00Z", "from")]
    [InlineData("2026-11-25T02:00:00Z", "from")]
    [InlineData("yesterday", "from")]
    public async Task A_placement_from_the_future_or_from_before_the_last_one_is_refused(string from, string field)
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        await probe.PublishAsync(Topic, "31.4");
        string hazel = await host.AddIncubatorAsync("Hazel");
        await host.PlaceAsync("hazel-air", hazel);
        host.Time.Advance(TimeSpan.FromMinutes(10));

        using HttpResponseMessage answer = await host.PostAsync(
            "/api/probes/hazel-air/placements", new { incubator = hazel, where = "tub 2", from });

        await Problem.Is(answer, HttpStatusCode.BadRequest, field);
    }

    [Fact]
    public async Task Placing_names_what_is_missing_or_unknown()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        await probe.PublishAsync(Topic, "31.4");

        using HttpResponseMessage empty = await host.PostAsync("/api/probes/hazel-air/placements", new { });
        using HttpResponseMessage nowhere = await host.PostAsync("/api/probes/hazel-air/placements", new { incubator = "rowan", where = "air" });
        using HttpResponseMessage nobody = await host.PostAsync("/api/probes/rowan-air/placements", new { incubator = "rowan", where = "air" });

        await Problem.Is(empty, HttpStatusCode.BadRequest, "where");
        await Problem.Is(nowhere, HttpStatusCode.BadRequest, "incubator");
        Assert.Equal(HttpStatusCode.NotFound, nobody.StatusCode);
    }

    [Fact]
    public async Task A_name_is_given_and_taken_away()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        await probe.PublishAsync(Topic, "31.4");

        using HttpResponseMessage named = await host.PutAsync("/api/probes/hazel-air", new { name = " <i>Upper</i> 🥚 " });
        Assert.Equal("<i>Upper</i> 🥚", (await host.GetAsync("/api/probes")).GetProperty("notPlaced")[0].GetProperty("name").GetString());
        using HttpResponseMessage unnamed = await host.PutAsync("/api/probes/hazel-air", new { name = "" });
        Assert.Equal(JsonValueKind.Null, (await host.GetAsync("/api/probes")).GetProperty("notPlaced")[0].GetProperty("name").ValueKind);
        using HttpResponseMessage unknown = await host.PutAsync("/api/probes/rowan-air", new { name = "x" });

        Assert.Equal(HttpStatusCode.NotFound, unknown.StatusCode);
    }

    [Fact]
    public async Task A_probe_falls_silent_by_the_band_of_its_incubator_and_bad_values_do_not_wake_it()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        await probe.PublishAsync(Topic, "31.4");
        await host.PlaceAsync("hazel-air", await host.AddIncubatorAsync("Hazel"));
        Assert.Equal("good", await QualityAsync(host));

        host.Time.Advance(TimeSpan.FromSeconds(599));
        await probe.PublishAsync(Topic, "-127");
        Assert.Equal("faulty", await QualityAsync(host));
        host.Time.Advance(TimeSpan.FromSeconds(2));
        await probe.PublishAsync(Topic, "-127");

        Assert.Equal("silent", await QualityAsync(host));
        await probe.PublishAsync(Topic, "31.4");
        Assert.Equal("good", await QualityAsync(host));
    }

    [Fact]
    public async Task A_reading_that_the_probe_had_kept_for_an_hour_does_not_make_it_look_fresh()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);

        await probe.PublishAsync(Topic, """{"value":31.4,"at":"2026-11-25T02:00:00Z"}""");

        Assert.Equal("silent", await QualityAsync(host));
    }

    private static async Task<string> QualityAsync(IntakeHost host)
    {
        JsonElement lists = await host.GetAsync("/api/probes");
        JsonElement view = lists.GetProperty("placed").EnumerateArray().Concat(lists.GetProperty("notPlaced").EnumerateArray()).Single();
        return view.GetProperty("series")[0].GetProperty("quality").GetString()!;
    }
}
