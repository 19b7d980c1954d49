using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using Incubation.Core.Readings;
using Incubation.Service.Development;
using Incubation.Service.Readings;
using Incubation.Service.Tests.Facility;
using Incubation.Service.Tests.Readings;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Probes;

public sealed class CalibrationTests
{
    private const string Topic = "incubation/hazel/hazel-air/temperature";
    private const string Calibrations = "/api/probes/hazel-air/calibrations";
    private static readonly SeriesKey Series = new("hazel-air", Quantity.Temperature);

    [Fact]
    public async Task A_calibration_entered_late_corrects_the_past_everywhere_and_the_next_reading()
    {
        await using IntakeHost host = await IntakeHost.StartAsync(services => services.AddSingleton<SeriesDays>());
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        string hazel = await host.AddIncubatorAsync("Hazel");
        await probe.PublishAsync(Topic, "31.0");
        await host.PlaceAsync("hazel-air", hazel);
        host.Time.Advance(TimeSpan.FromMinutes(30));
        await probe.PublishAsync(Topic, "31.2");
        host.Time.Advance(TimeSpan.FromHours(2));
        string path = $"/api/incubators/{hazel}/history?quantity=temperature&from=2026-11-25T02:50:00Z&to=2026-11-25T04:00:00Z&buckets=1";
        SeriesDays days = host.Services.GetRequiredService<SeriesDays>();
        Instant now = Instant.FromDateTimeOffset(host.Time.GetUtcNow());
        Assert.Equal([31.0, 31.2], Values(days, now));
        Assert.Equal(31.1, Mean(await host.GetAsync(path)), 1e-9);
        int late = days.LateReadings;

        using HttpResponseMessage added = await PutAsync(host, Guid.NewGuid(), new
        {
            quantity = "temperature",
            from = "2026-11-25T03:10:00Z",
            method = "ice bath",
            points = new[] { new { measured = 0.4 } },
        });

        Assert.Equal(HttpStatusCode.Created, added.StatusCode);
        JsonElement view = await added.Content.ReadFromJsonAsync<JsonElement>(TestContext.Current.CancellationToken);
        Assert.Equal("2027-11-25", view.GetProperty("nextDue").GetString());
        Assert.True(view.GetProperty("holds").GetBoolean());
        Assert.Equal(-0.4, view.GetProperty("offset").GetDouble(), 1e-9);
        Assert.Equal((31.0 + 30.8) / 2, Mean(await host.GetAsync(path)), 1e-9);
        double[] corrected = [.. Values(days, now)];
        Assert.Equal(31.0, corrected[0], 1e-9);
        Assert.Equal(30.8, corrected[1], 1e-9);
        Assert.True(days.LateReadings > late);
        Assert.Equal(30.8, await NewestAsync(host), 1e-9);
        Assert.Equal(31.2, host.Services.GetRequiredService<LatestReadings>().LatestMeasured(Series)!.Value.Value);
        Assert.Equal([31.0, 31.2], host.Services.GetRequiredService<IReadingStore>().Read(Series, now - Duration.FromDays(1), now).Select(r => r.Value));
        await probe.PublishAsync(Topic, "31.5");
        Assert.Equal(31.1, await NewestAsync(host), 1e-9);
    }

    [Fact]
    public async Task The_same_again_changes_nothing_another_under_its_id_is_refused_and_a_withdrawal_stays_on_record()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        await probe.PublishAsync(Topic, "31.0");
        Guid id = Guid.NewGuid();
        var ice = new { quantity = "temperature", from = "2026-11-25T02:00:00Z", method = "ice bath", points = new[] { new { measured = 0.4 } } };

        Assert.Equal(HttpStatusCode.Created, await StatusAsync(host, id, ice));
        host.Time.Advance(TimeSpan.FromHours(1));
        Assert.Equal(HttpStatusCode.OK, await StatusAsync(host, id, ice));
        Assert.Equal(HttpStatusCode.Conflict, await StatusAsync(host, id, new { ice.quantity, ice.from, ice.method, points = new[] { new { measured = 0.5 } } }));
        Assert.Equal(HttpStatusCode.NotFound, (await host.DeleteAsync($"{Calibrations}/{Guid.NewGuid()}")).StatusCode);
        Assert.Equal(HttpStatusCode.NoContent, (await host.DeleteAsync($"{Calibrations}/{id}")).StatusCode);
        Assert.Equal(HttpStatusCode.NoContent, (await host.DeleteAsync($"{Calibrations}/{id}")).StatusCode);

        JsonElement list = await host.GetAsync(Calibrations);
        Assert.Equal([false, false], list.EnumerateArray().Select(c => c.GetProperty("holds").GetBoolean()));
        Assert.Equal(["ice bath", "nothing"], list.EnumerateArray().Select(c => c.GetProperty("method").GetString()));
        Assert.Equal(31.0, await NewestAsync(host));
    }

    [Fact]
    public async Task Calibrations_are_there_again_after_a_restart_salt_and_all()
    {
        string directory = Directory.CreateTempSubdirectory("incubation-test-").FullName;
        await using (IntakeHost host = await IntakeHost.StartAsync(directory: directory, keep: true))
        {
            await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
            await probe.PublishAsync("incubation/hazel/hazel-air/humidity", "80");
            Assert.Equal(HttpStatusCode.Created, await StatusAsync(host, Guid.NewGuid(), new
            {
                quantity = "humidity",
                from = "2026-11-25T02:00:00Z",
                method = "saturated salt",
                atCelsius = 25.0,
                points = new object[] { new { measured = 35.0, salt = "MgCl2" }, new { measured = 78.0, salt = "NaCl" } },
            }));
        }

        await using IntakeHost again = await IntakeHost.StartAsync(directory: directory);
        JsonElement one = (await again.GetAsync(Calibrations))[0];
        Assert.Equal(["MgCl2", "NaCl"], one.GetProperty("points").EnumerateArray().Select(p => p.GetProperty("salt").GetString()));
        Assert.Equal(75.3, one.GetProperty("points")[1].GetProperty("truth").GetDouble());
        Assert.Equal((one.GetProperty("gain").GetDouble() * 80) + one.GetProperty("offset").GetDouble(), await NewestAsync(again), 1e-9);
    }

    [Theory]
    [InlineData("""{"quantity":"temperature","from":"2026-11-25T02:00:00Z","method":"ice bath","points":[{"measured":4}]}""", "sure")]
    [InlineData("""{"quantity":"temperature","from":"2026-11-26T02:00:00Z","method":"ice bath","points":[{"measured":0.4}]}""", "from")]
    [InlineData("""{"quantity":"temperature","from":"2026-11-25T02:00:00Z","method":"a guess","points":[{"measured":0.4}]}""", "method")]
    [InlineData("""{"quantity":"humidity","from":"2026-11-25T02:00:00Z","method":"saturated salt","salt":"sugar","points":[{"measured":70}]}""", "points[0].salt")]
    [InlineData("""{"quantity":"humidity","from":"2026-11-25T02:00:00Z","method":"saturated salt","salt":"NaCl","points":[{"measured":70}]}""", "points[0].atCelsius")]
    [InlineData("""{"quantity":"temperature","from":"2026-11-25T02:00:00Z","method":"reference thermometer","points":[{"measured":30}]}""", "points[0].truth")]
    [InlineData("""{"quantity":"temperature","from":"2026-11-25T02:00:00Z","method":"ice bath","points":[null]}""", "points[0].measured")]
    [InlineData("""{"quantity":"temperature","from":"2026-11-25T02:00:00Z","method":"ice bath","points":[{"measured":0.4}],"nextDue":"2026-11-01"}""", "nextDue")]
    public async Task What_makes_no_sense_is_refused_by_the_name_of_its_field(string body, string field)
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        await probe.PublishAsync(Topic, "31.0");

        using HttpResponseMessage answer = await PutAsync(host, Guid.NewGuid(), JsonSerializer.Deserialize<JsonElement>(body));

        await Problem.Is(answer, HttpStatusCode.BadRequest, field);
    }

    [Fact]
    public async Task Known_points_name_ice_six_salts_and_what_to_mind_and_an_unknown_probe_has_no_calibrations()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();

        JsonElement points = await host.GetAsync("/api/calibration-points");

        Assert.Equal(0, points.GetProperty("icePoint").GetProperty("truth").GetDouble());
        Assert.Equal(["LiCl", "MgCl2", "Mg(NO3)2", "NaCl", "KCl", "K2SO4"], points.GetProperty("salts").EnumerateArray().Select(s => s.GetProperty("key").GetString()));
        string cautions = string.Join(' ', points.GetProperty("cautions").EnumerateArray().Select(c => c.GetString()));
        Assert.Contains("harmful if swallowed", cautions, StringComparison.Ordinal);
        Assert.Contains("mains", cautions, StringComparison.Ordinal);
        JsonElement iceBath = points.GetProperty("cautionsOf").GetProperty("ice bath");
        Assert.Contains("mains", iceBath[0].GetString(), StringComparison.Ordinal);
        Assert.DoesNotContain("salt", string.Join(' ', iceBath.EnumerateArray().Select(c => c.GetString())), StringComparison.Ordinal);
        using HttpResponseMessage missing = await host.Http.GetAsync("/api/probes/nobody/calibrations", TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.NotFound, missing.StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await host.DeleteAsync($"/api/probes/nobody/calibrations/{Guid.NewGuid()}")).StatusCode);
    }

    private static IEnumerable<double> Values(SeriesDays days, Instant now) => days.Of(Series, SeriesDays.DayOf(now), now).Points.Select(p => p.Value);

    private static double Mean(JsonElement history) => history.GetProperty("series")[0].GetProperty("mean")[0].GetDouble();

    private static Task<HttpResponseMessage> PutAsync(IntakeHost host, Guid id, object body) => host.PutAsync($"{Calibrations}/{id}", body);

    private static async Task<HttpStatusCode> StatusAsync(IntakeHost host, Guid id, object body)
    {
        using HttpResponseMessage answer = await PutAsync(host, id, body);
        return answer.StatusCode;
    }

    private static async Task<double> NewestAsync(IntakeHost host)
    {
        JsonElement lists = await host.GetAsync("/api/probes");
        JsonElement view = lists.GetProperty("placed").EnumerateArray().Concat(lists.GetProperty("notPlaced").EnumerateArray()).Single();
        return view.GetProperty("series")[0].GetProperty("value").GetDouble();
    }
}
