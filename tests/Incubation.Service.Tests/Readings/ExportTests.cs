using System.Globalization;
using System.Net;
using System.Text.Json;
using Incubation.Core.Readings;
using Incubation.Service.Probes;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Readings;

/// <summary>Readings as a file for a spreadsheet.</summary>
public sealed class ExportTests
{
    private const string Days = "from=2026-11-20T00:00:00Z&to=2026-11-26T00:00:00Z";

    private static readonly Instant Start = Instant.FromUtc(2026, 11, 20, 12, 0);

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_probes_readings_come_whole_over_days_and_corrected_beside_measured()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await StoreAsync(host, "hazel-air", Quantity.Temperature, 500, Duration.FromMinutes(10));
        await StoreAsync(host, "hazel-air", Quantity.Humidity, 2, Duration.FromMinutes(10));
        host.Services.GetRequiredService<Corrections>().Become(new Dictionary<SeriesKey, Correction>
        {
            [new SeriesKey("hazel-air", Quantity.Temperature)] = new([new(Start + Duration.FromDays(1), 1, 0.5)]),
        });

        using HttpResponseMessage answer = await host.Http.GetAsync($"/api/readings/export?probe=hazel-air&quantity=temperature&{Days}", Token);
        string[] lines = (await answer.Content.ReadAsStringAsync(Token)).Split("\r\n");

        Assert.Equal((HttpStatusCode.OK, "text/csv"), (answer.StatusCode, answer.Content.Headers.ContentType!.MediaType));
        Assert.Equal("time,probe,quantity,unit,measured,corrected,marks", lines[0]);
        Assert.Equal((502, ""), (lines.Length, lines[^1]));
        Assert.Equal("2026-11-20T12:00:00Z,hazel-air,temperature,Cel,30,30,", lines[1]);
        Assert.Equal("2026-11-23T23:10:00Z,hazel-air,temperature,Cel,30,30.5,", lines[500]);
        Assert.Equal(
            Enumerable.Range(0, 500).Select(i => (Start + Duration.FromMinutes(10 * i)).ToString("uuuu-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture)),
            lines[1..^1].Select(line => line.Split(',')[0]));
    }

    [Fact]
    public async Task An_incubators_file_has_only_what_was_measured_while_the_probe_was_there()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        string hazel = await host.AddIncubatorAsync("Hazel");
        await StoreAsync(host, "hazel-air", Quantity.Temperature, 3, Duration.FromMinutes(10));
        await using (ProbeClient probe = await ProbeClient.ConnectAsync(host))
        {
            await probe.PublishAsync("incubation/hazel/hazel-air/temperature", """{"value":32,"at":"2026-11-25T02:59:00Z"}""");
            await host.PlaceAsync("hazel-air", hazel);
            host.Time.Advance(TimeSpan.FromMinutes(5));
            await probe.PublishAsync("incubation/hazel/hazel-air/temperature", """{"value":33,"at":"2026-11-25T03:04:00Z"}""");
        }

        string[] lines = (await host.Http.GetStringAsync($"/api/readings/export?incubator={hazel}&{Days}", Token)).Split("\r\n");

        Assert.Equal("2026-11-25T03:04:00Z,hazel-air,temperature,Cel,33,33,", Assert.Single(lines[1..^1]));
    }

    [Theory]
    [InlineData("", HttpStatusCode.BadRequest, "probe")]
    [InlineData("probe=a&incubator=b", HttpStatusCode.BadRequest, "probe")]
    [InlineData("probe=a&from=yesterday", HttpStatusCode.BadRequest, "from")]
    [InlineData("probe=a&to=2026-11-25", HttpStatusCode.BadRequest, "to")]
    [InlineData("probe=a&quantity=%3D1", HttpStatusCode.BadRequest, "quantity")]
    [InlineData("probe=a&from=2020-01-01T00:00:00Z", HttpStatusCode.BadRequest, "from")]
    [InlineData("probe=nobody", HttpStatusCode.NotFound, "nobody")]
    [InlineData("incubator=nowhere", HttpStatusCode.NotFound, "nowhere")]
    public async Task What_cannot_be_exported_is_said_before_anything_is_sent(string query, HttpStatusCode status, string named)
    {
        await using IntakeHost host = await IntakeHost.StartAsync();

        using HttpResponseMessage answer = await host.Http.GetAsync("/api/readings/export?" + query, Token);
        using JsonDocument problem = JsonDocument.Parse(await answer.Content.ReadAsStringAsync(Token));

        Assert.Equal((status, "application/problem+json"), (answer.StatusCode, answer.Content.Headers.ContentType!.MediaType));
        Assert.Contains(named, problem.RootElement.GetRawText(), StringComparison.Ordinal);
    }

    private static async Task StoreAsync(IntakeHost host, string probe, Quantity quantity, int count, Duration step)
    {
        Reading[] readings =
        [
            .. Enumerable.Range(0, count).Select(i => new Reading(
                new SeriesKey(probe, quantity), 30, Start + step * i, Start + step * i, ReadingMarks.None)),
        ];
        await host.Services.GetRequiredService<IReadingStore>().StoreAsync(readings, Token);
    }
}
