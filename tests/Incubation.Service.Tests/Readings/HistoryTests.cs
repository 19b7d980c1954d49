using System.Globalization;
using System.Net;
using System.Text.Json;
using Incubation.Service.Tests.Facility;
using Xunit;

namespace Incubation.Service.Tests.Readings;

public sealed class HistoryTests
{
    private const string Topic = "incubation/hazel/hazel-air/temperature";

    [Fact]
    public async Task History_holds_only_what_a_probe_measured_while_it_was_there_on_one_grid()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        string hazel = await host.AddIncubatorAsync("Hazel"), rowan = await host.AddIncubatorAsync("Rowan");
        await probe.PublishAsync(Topic, "20");
        host.Time.Advance(TimeSpan.FromMinutes(5));
        await host.PlaceAsync("hazel-air", hazel);
        await probe.PublishAsync(Topic, "31");
        host.Time.Advance(TimeSpan.FromMinutes(20));
        await probe.PublishAsync(Topic, "32");
        host.Time.Advance(TimeSpan.FromMinutes(1));
        await host.PlaceAsync("hazel-air", rowan);
        await probe.PublishAsync(Topic, "25");
        host.Time.Advance(TimeSpan.FromMinutes(60));

        JsonElement history = await host.GetAsync(Path(hazel, "2026-11-25T03:00:00Z", "2026-11-25T04:00:00Z", "6"));

        Assert.Equal(600_000, history.GetProperty("bucketMs").GetInt64());
        JsonElement series = Assert.Single(history.GetProperty("series").EnumerateArray());
        Assert.Equal("hazel-air", series.GetProperty("probe").GetString());
        Assert.Equal([31.0, 32.0], series.GetProperty("mean").EnumerateArray().Select(v => v.GetDouble()));
        Assert.Equal([31.0, 32.0], series.GetProperty("min").EnumerateArray().Select(v => v.GetDouble()));
        long start = DateTimeOffset.Parse("2026-11-25T03:00:00Z", CultureInfo.InvariantCulture).ToUnixTimeMilliseconds();
        Assert.Equal([start, start + 1_200_000], series.GetProperty("startMs").EnumerateArray().Select(v => v.GetInt64()));
        Assert.Equal(33.5, history.GetProperty("band").GetProperty("dangerHigh").GetDouble());
        Assert.Equal("Cel", history.GetProperty("unit").GetString());
    }

    [Fact]
    public async Task A_finished_range_is_not_sent_twice_until_a_late_reading_changes_it()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        string hazel = await host.AddIncubatorAsync("Hazel");
        await probe.PublishAsync(Topic, "31");
        await host.PlaceAsync("hazel-air", hazel);
        host.Time.Advance(TimeSpan.FromHours(2));
        string path = Path(hazel, "2026-11-25T03:00:00Z", "2026-11-25T04:00:00Z", "6");
        using HttpResponseMessage first = await host.Http.GetAsync(path, TestContext.Current.CancellationToken);
        Assert.NotNull(first.Headers.ETag);

        using HttpResponseMessage again = await AskAsync(first);
        Assert.Equal(HttpStatusCode.NotModified, again.StatusCode);
        await probe.PublishAsync(Topic, """{"value":32,"at":"2026-11-25T03:30:00Z"}""");

        using HttpResponseMessage changed = await AskAsync(first);
        Assert.Equal(HttpStatusCode.OK, changed.StatusCode);

        async Task<HttpResponseMessage> AskAsync(HttpResponseMessage known)
        {
            using HttpRequestMessage request = new(HttpMethod.Get, path);
            request.Headers.IfNoneMatch.Add(known.Headers.ETag!);
            return await host.Http.SendAsync(request, TestContext.Current.CancellationToken);
        }
    }

    [Theory]
    [InlineData("yesterday", "2026-11-25T04:00:00Z", "6", "from")]
    [InlineData("2026-11-25T03:00:00Z", "soon", "6", "to")]
    [InlineData("2026-11-25T04:00:00Z", "2026-11-25T03:00:00Z", "6", "from")]
    [InlineData("2016-11-25T04:00:00Z", "2026-11-25T03:00:00Z", "6", "from")]
    [InlineData("2026-11-25T03:00:00Z", "2026-11-25T04:00:00Z", "0", "buckets")]
    [InlineData("2026-11-25T03:00:00Z", "2026-11-25T04:00:00Z", "5001", "buckets")]
    [InlineData("2026-11-25T03:00:00Z", "2026-11-25T04:00:00Z", "many", "buckets")]
    public async Task A_range_that_is_none_is_a_problem_that_names_the_field(string from, string to, string buckets, string field)
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        string hazel = await host.AddIncubatorAsync("Hazel");

        using HttpResponseMessage answer = await host.Http.GetAsync(Path(hazel, from, to, buckets), TestContext.Current.CancellationToken);

        await Problem.Is(answer, HttpStatusCode.BadRequest, field);
    }

    [Fact]
    public async Task An_unknown_incubator_has_no_history_and_a_retired_one_keeps_its_own()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        string hazel = await host.AddIncubatorAsync("Hazel");
        using HttpResponseMessage retired = await host.DeleteAsync($"/api/incubators/{hazel}");

        using HttpResponseMessage kept = await host.Http.GetAsync($"/api/incubators/{hazel}/history", TestContext.Current.CancellationToken);
        using HttpResponseMessage unknown = await host.Http.GetAsync("/api/incubators/rowan/history", TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.OK, kept.StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, unknown.StatusCode);
    }

    private static string Path(string incubator, string from, string to, string buckets)
        => $"/api/incubators/{incubator}/history?quantity=temperature&from={from}&to={to}&buckets={buckets}";
}
