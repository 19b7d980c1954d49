using System.Net;
using System.Text.Json;
using Incubation.Core.Readings;
using Incubation.Service.Tests.Readings;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Facility;

public sealed class RunInTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 3, 0);

    [Fact]
    public async Task A_run_in_is_begun_judged_when_its_time_is_over_and_another_may_follow()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        string key = await host.AddIncubatorAsync("Hazel");
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        await probe.PublishAsync("incubation/hazel/hazel-air/temperature", "31.5");
        await host.PlaceAsync("hazel-air", key, "air, middle");

        using HttpResponseMessage begun = await host.PostAsync($"/api/incubators/{key}/run-ins", new { });
        Assert.Equal(HttpStatusCode.Created, begun.StatusCode);
        using HttpResponseMessage twice = await host.PostAsync($"/api/incubators/{key}/run-ins", new { });
        Assert.Equal(HttpStatusCode.Conflict, twice.StatusCode);
        JsonElement running = (await host.GetAsync($"/api/incubators/{key}/run-ins"))[0];
        Assert.Equal(("running", "too early"), (running.GetProperty("state").GetString(), running.GetProperty("verdict").GetString()));

        SeriesKey series = new("hazel-air", Quantity.Temperature);
        Reading[] two = [.. Enumerable.Range(1, 48 * 60).Select(i => Now + Duration.FromMinutes(i)).Select(at => new Reading(series, 31.5, at, at, ReadingMarks.None))];
        await host.Services.GetRequiredService<IReadingStore>().StoreAsync(two, TestContext.Current.CancellationToken);
        host.Time.Advance(TimeSpan.FromHours(50));

        JsonElement done = (await host.GetAsync($"/api/incubators/{key}/run-ins"))[0];
        Assert.Equal(("done", "ready"), (done.GetProperty("state").GetString(), done.GetProperty("verdict").GetString()));
        Assert.Equal("2026-11-27T03:00:00Z", done.GetProperty("until").GetString());
        Assert.Equal(1, done.GetProperty("steadiness")[0].GetProperty("inBandShare").GetDouble());
        using HttpResponseMessage next = await host.PostAsync($"/api/incubators/{key}/run-ins", new { });
        Assert.Equal(HttpStatusCode.Created, next.StatusCode);
    }

    [Fact]
    public async Task A_running_one_is_ended_once_and_what_is_wrong_is_named()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        string key = await host.AddIncubatorAsync("Hazel");
        using HttpResponseMessage none = await host.DeleteAsync($"/api/incubators/{key}/run-ins/current");
        Assert.Equal(HttpStatusCode.NotFound, none.StatusCode);
        using HttpResponseMessage future = await host.PostAsync($"/api/incubators/{key}/run-ins", new { from = "2027-01-01T00:00:00Z" });
        await Problem.Is(future, HttpStatusCode.BadRequest, "from");
        using HttpResponseMessage unknown = await host.PostAsync("/api/incubators/nowhere/run-ins", new { });
        Assert.Equal(HttpStatusCode.NotFound, unknown.StatusCode);

        using HttpResponseMessage begun = await host.PostAsync($"/api/incubators/{key}/run-ins", new { from = "2026-11-24T03:00:00Z" });
        using HttpResponseMessage ended = await host.DeleteAsync($"/api/incubators/{key}/run-ins/current");

        Assert.Equal(HttpStatusCode.NoContent, ended.StatusCode);
        JsonElement view = (await host.GetAsync($"/api/incubators/{key}/run-ins"))[0];
        Assert.Equal("ended", view.GetProperty("state").GetString());
        Assert.Equal(24, view.GetProperty("hours").GetDouble());
        Assert.Contains("No probe in it", view.GetProperty("words").GetString(), StringComparison.Ordinal);
    }
}
