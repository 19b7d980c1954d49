using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;
using Incubation.EndToEnd.Tests.Instruments;
using Incubation.EndToEnd.Tests.Night;
using Xunit;

namespace Incubation.EndToEnd.Tests.BadInput;

/// <summary>Bad input over real MQTT, sent by mosquitto_pub, and bad forms over HTTP.</summary>
public sealed class BadInputTests : IAsyncLifetime
{
    private EggRoom _room = null!;

    private static CancellationToken Stop => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync() => _room = await EggRoom.OpenAsync(new ServiceSetup(), Stop);

    public ValueTask DisposeAsync() => _room.DisposeAsync();

    [Fact]
    public async Task What_cannot_be_read_is_kept_with_topic_start_reason_and_count_and_touches_no_alarm()
    {
        (string Topic, string Payload)[] bad =
        [
            ("incubation/hazel/hazel-air/temperature", "thirty-one"),
            ("incubation/hazel/hazel-air/temperature", "{\"value\":"),
            ("incubation/hazel/hazel-air/temperature", "NaN"),
            ("incubation/hazel/hazel-air/temperature", "400"),
            ("incubation/hazel/hazel-air/temperature", "{\"value\":31.4,\"unit\":\"Reaumur\"}"),
            ("incubation/temperature", "31.4"),
        ];
        foreach ((string topic, string payload) in bad)
        {
            await _room.Probes.PublishAsync(topic, payload, Stop);
            await _room.Probes.PublishAsync(topic, payload, Stop);
        }

        JsonArray kept = await RejectedAsync(bad.Length);
        foreach ((string topic, string payload) in bad)
        {
            JsonNode? message = kept.FirstOrDefault(one => (string?)one!["topic"] == topic && Start(one).StartsWith(payload, StringComparison.Ordinal));
            Assert.True(message is not null || kept.Any(one => (string?)one!["topic"] == topic && (int)one["count"]! >= 2), $"{topic} {payload} is not in {kept}");
        }

        Assert.All(kept, one => Assert.False(string.IsNullOrWhiteSpace((string?)one!["reason"])));
        Assert.Equal(bad.Length * 2, kept.Sum(one => (int)one!["count"]!));
        Assert.Empty(await _room.AlarmsAsync(Stop));
        Assert.Equal(31.4, await LatestAsync("temperature"));
    }

    [Fact]
    public async Task A_payload_of_one_MiB_is_rejected_and_only_its_start_is_kept()
    {
        await _room.Probes.PublishBytesAsync(EggRoom.Topic, [.. Enumerable.Repeat((byte)'7', 1024 * 1024)], Stop);
        JsonNode message = Assert.Single(await RejectedAsync(1))!;
        Assert.Equal(EggRoom.Topic, (string?)message["topic"]);
        Assert.InRange(Start(message).Length, 1, 200);
        // The service still hears.
        await _room.Probes.PublishAsync(EggRoom.Topic, "31.6", Stop);
        Assert.Equal(31.6, await LatestAsync("temperature"));
    }

    [Fact]
    public async Task Humidity_just_over_100_is_stored_and_flagged_as_saturated()
    {
        await _room.Probes.PublishAsync("incubation/hazel/hazel-air/humidity", "102.5", Stop);
        JsonNode series = await SeriesAsync("humidity");
        Assert.True((bool)series["saturated"]!);
        Assert.Empty((await _room.Owner.GetAsync("/api/rejected-messages", Stop)).AsArray());
    }

    [Theory]
    [InlineData("-127")]
    [InlineData("85.0")]
    public async Task A_value_that_only_a_broken_probe_sends_is_faulty_and_raises_nothing(string payload)
    {
        await _room.Probes.PublishAsync(EggRoom.Topic, payload, Stop);
        await Waiting.UntilAsync(async () => (string?)(await SeriesAsync("temperature"))["quality"] == "faulty", TimeSpan.FromSeconds(10), "the probe to be faulty", Stop);
        await Waiting.Pause(TimeSpan.FromSeconds(EggRoom.DangerOnDelay + 1), Stop);
        Assert.DoesNotContain(await _room.AlarmsAsync(Stop), alarm => (string?)alarm["condition"] is "high" or "low");
    }

    [Fact]
    public async Task A_bad_value_does_not_clear_an_alarm()
    {
        await _room.Probes.PublishAsync(EggRoom.Topic, "34.6", Stop);
        await Waiting.UntilAsync(async () => await _room.AlarmAsync("danger", Stop) is not null, TimeSpan.FromSeconds(20), "the danger", Stop);
        await _room.Probes.PublishAsync(EggRoom.Topic, "-127", Stop);
        await _room.Probes.PublishAsync(EggRoom.Topic, "NaN", Stop);
        // The off-delay is 2 s.
        await Waiting.Pause(TimeSpan.FromSeconds(4), Stop);
        Assert.Null((string?)(await _room.AlarmAsync("danger", Stop))!["returnedAt"]);
    }

    [Fact]
    public async Task A_probe_that_sends_only_bad_values_is_silent_after_its_time()
    {
        await _room.SetBandAsync(EggRoom.WarningOnDelay, EggRoom.DangerOnDelay, silentAfter: 4, Stop);
        await Waiting.UntilAsync(async () =>
        {
            await _room.Probes.PublishAsync(EggRoom.Topic, "-127", Stop);
            return (await _room.AlarmsAsync(Stop)).Any(alarm => (string?)alarm["condition"] is "no reading" or "nothing from any probe");
        }, TimeSpan.FromSeconds(20), "the probe that says nothing good to count as silent", Stop);
    }

    [Fact]
    public async Task A_wrong_clock_costs_no_reading()
    {
        await _room.Probes.PublishAsync(EggRoom.Topic, "{\"value\":31.7,\"at\":\"2000-01-01T00:00:00Z\"}", Stop);
        JsonNode probe = await Waiting.ForAsync(async () => await ProbeAsync() is { } found && found["clockOffSeconds"] is not null ? found : null,
            TimeSpan.FromSeconds(10), "the probe to be marked by its clock", Stop);
        Assert.True(Math.Abs((double)probe["clockOffSeconds"]!) > 700_000_000, probe.ToJsonString());
        Assert.Equal(31.7, await LatestAsync("temperature"));
    }

    [Fact]
    public async Task A_bad_form_is_a_problem_document_that_names_the_field_and_what_is_allowed()
    {
        JsonObject band = new() { ["dangerLow"] = 40, ["warningLow"] = 30.5, ["warningHigh"] = 32.5, ["dangerHigh"] = 33.5, ["deadband"] = 0.2 };
        (HttpStatusCode status, string? media, string text) = await _room.Owner.TryAsync(
            HttpMethod.Put, $"/api/incubators/{_room.Incubator}/bands/temperature", band, Stop);
        Assert.Equal((HttpStatusCode.BadRequest, "application/problem+json"), (status, media));
        JsonObject errors = JsonNode.Parse(text)!["errors"]!.AsObject();
        Assert.NotEmpty(errors);
        Assert.All(errors, error => Assert.False(string.IsNullOrWhiteSpace((string?)error.Value!.AsArray()[0])));
    }

    private async Task<JsonArray> RejectedAsync(int atLeast)
        => await Waiting.ForAsync(async () => (await _room.Owner.GetAsync("/api/rejected-messages", Stop)).AsArray() is { } kept && kept.Count >= atLeast ? kept : null,
            TimeSpan.FromSeconds(10), string.Create(CultureInfo.InvariantCulture, $"{atLeast} rejected messages"), Stop);

    private static string Start(JsonNode? message) => (string?)message!["payloadStart"] ?? "";

    private async Task<JsonNode> ProbeAsync()
        => (await _room.Owner.GetAsync("/api/probes", Stop))["placed"]!.AsArray().First(probe => (string?)probe!["key"] == EggRoom.Probe)!;

    private async Task<JsonNode> SeriesAsync(string quantity)
        => (await ProbeAsync())["series"]!.AsArray().First(series => (string?)series!["quantity"] == quantity)!;

    private async Task<double?> LatestAsync(string quantity) => (double?)(await SeriesAsync(quantity))["value"];
}
