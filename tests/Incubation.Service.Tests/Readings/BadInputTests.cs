using System.Globalization;
using System.Text.Json;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Service.Readings;
using Microsoft.Extensions.DependencyInjection;
using MQTTnet;
using Xunit;

namespace Incubation.Service.Tests.Readings;

public sealed class BadInputTests
{
    private const string Temperature = "incubation/hazel/hazel-air/temperature";
    private const string Humidity = "incubation/hazel/hazel-air/humidity";

    [Theory]
    [InlineData(Temperature, "not a number", "neither a number")]
    [InlineData(Temperature, "{\"value\":31.4", "broken")]
    [InlineData(Temperature, "NaN", "")]
    [InlineData(Temperature, "1e999", "finite")]
    [InlineData(Temperature, "400", "above 80 °C")]
    [InlineData(Temperature, "{\"value\":31.4,\"unit\":\"Reaumur\"}", "unit")]
    [InlineData(Temperature, "31,4", "decimal comma")]
    [InlineData(Temperature, "", "empty")]
    [InlineData(Humidity, "105.1", "above 105 %RH")]
    [InlineData("incubation/hazel/temperature", "31.4", "topic")]
    [InlineData("incubation/hazel/hazel-air/temperature/now", "31.4", "topic")]
    [InlineData("incubation/hazel/hazel-air/Temp Rature", "31.4", "quantity")]
    [InlineData("garage/temperature", "31.4", "Nothing listens")]
    public async Task A_message_that_cannot_be_read_is_kept_with_the_reason_and_no_reading_comes_of_it(string topic, string payload, string reason)
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);

        await probe.PublishAsync(topic, payload);
        await probe.PublishAsync(topic, payload);

        JsonElement rejected = Assert.Single((await host.GetAsync("/api/rejected-messages")).EnumerateArray());
        Assert.Equal(topic, rejected.GetProperty("topic").GetString());
        Assert.Equal(payload, rejected.GetProperty("payloadStart").GetString());
        Assert.Contains(reason, rejected.GetProperty("reason").GetString(), StringComparison.OrdinalIgnoreCase);
        Assert.Equal(2, rejected.GetProperty("count").GetInt64());
        Assert.Empty(host.Services.GetRequiredService<IReadingStore>().Latest());
        Assert.Equal(0, (await host.GetAsync("/api/probes")).GetProperty("notPlaced").GetArrayLength());
    }

    [Fact]
    public async Task A_payload_of_one_mebibyte_is_rejected_and_the_next_reading_is_taken()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);

        MqttClientPublishResult refused = await probe.PublishAsync(Temperature, new byte[1 << 20]);
        MqttClientPublishResult taken = await probe.PublishAsync(Temperature, "31.4");

        Assert.Equal(MqttClientPublishReasonCode.PayloadFormatInvalid, refused.ReasonCode);
        Assert.Contains("65536 bytes", refused.ReasonString, StringComparison.Ordinal);
        Assert.True(taken.IsSuccess);
        string start = (await host.GetAsync("/api/rejected-messages"))[0].GetProperty("payloadStart").GetString()!;
        Assert.StartsWith("\\x00\\x00", start, StringComparison.Ordinal);
        Assert.EndsWith("…", start, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(Temperature, "-127", "faulty", false)]
    [InlineData(Temperature, "85.0", "faulty", false)]
    [InlineData(Humidity, "103", "good", true)]
    public async Task A_value_that_is_no_measurement_is_stored_and_marked(string topic, string payload, string quality, bool saturated)
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);

        Assert.True((await probe.PublishAsync(topic, payload)).IsSuccess);

        JsonElement series = (await host.GetAsync("/api/probes")).GetProperty("notPlaced")[0].GetProperty("series")[0];
        Assert.Equal(quality, series.GetProperty("quality").GetString());
        Assert.Equal(saturated, series.GetProperty("saturated").GetBoolean());
        Assert.Equal(double.Parse(payload, CultureInfo.InvariantCulture), host.Services.GetRequiredService<IReadingStore>().Latest().Single().Value);
    }

    [Fact]
    public async Task Eighty_five_after_a_jump_is_faulty_also_when_the_good_value_is_from_before_a_restart()
    {
        string directory = Directory.CreateTempSubdirectory("incubation-test-").FullName;
        await using (IntakeHost before = await IntakeHost.StartAsync(directory: directory, keep: true))
        {
            await using ProbeClient probe = await ProbeClient.ConnectAsync(before);
            await probe.PublishAsync(Temperature, "79.5");
        }

        await using IntakeHost host = await IntakeHost.StartAsync(directory: directory);
        await using ProbeClient again = await ProbeClient.ConnectAsync(host);

        // 79.5 to 85 is no jump: then 85 is a temperature, and too hot to be one.
        MqttClientPublishResult result = await again.PublishAsync(Temperature, "85.0");

        Assert.Equal(MqttClientPublishReasonCode.PayloadFormatInvalid, result.ReasonCode);
    }

    [Theory]
    [InlineData("1970-01-01T00:00:10Z")]
    [InlineData("2026-11-25T03:06:00Z")]
    [InlineData("2026-10-01T00:00:00Z")]
    public async Task A_wrong_clock_costs_no_reading_and_is_told_in_seconds(string at)
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);

        Assert.True((await probe.PublishAsync(Temperature, $$"""{"value":31.4,"at":"{{at}}"}""")).IsSuccess);

        JsonElement view = (await host.GetAsync("/api/probes")).GetProperty("notPlaced")[0];
        double off = (DateTimeOffset.Parse(at, CultureInfo.InvariantCulture) - host.Time.GetUtcNow()).TotalSeconds;
        Assert.Equal(off, view.GetProperty("clockOffSeconds").GetDouble(), 0.001);
        JsonElement series = view.GetProperty("series")[0];
        Assert.Equal("2026-11-25T03:00:00Z", series.GetProperty("at").GetString());
        Assert.Equal("good", series.GetProperty("quality").GetString());

        await probe.PublishAsync(Temperature, """{"value":31.4,"at":"2026-11-25T03:00:00Z"}""");
        Assert.Equal(JsonValueKind.Null, (await host.GetAsync("/api/probes")).GetProperty("notPlaced")[0].GetProperty("clockOffSeconds").ValueKind);
    }

    [Fact]
    public async Task The_list_of_rejected_messages_stays_bounded_and_survives_a_restart()
    {
        string directory = Directory.CreateTempSubdirectory("incubation-test-").FullName;
        await using (IntakeHost before = await IntakeHost.StartAsync(directory: directory, keep: true))
        {
            await using ProbeClient probe = await ProbeClient.ConnectAsync(before);
            for (int i = 0; i < Limits.RejectedMessages + 5; i++)
            {
                await probe.PublishAsync($"incubation/hazel/p-{i}/temperature", "x");
            }

            Assert.Equal(Limits.RejectedMessages, (await before.GetAsync("/api/rejected-messages")).GetArrayLength());
        }

        await using IntakeHost host = await IntakeHost.StartAsync(directory: directory);
        JsonElement kept = await host.GetAsync("/api/rejected-messages");
        Assert.Equal(Limits.RejectedMessages, kept.GetArrayLength());
        Assert.Equal($"incubation/hazel/p-{Limits.RejectedMessages + 4}/temperature", kept[0].GetProperty("topic").GetString());
    }

    [Fact]
    public void Start_of_a_payload_shows_what_can_be_printed_and_the_bytes_of_the_rest()
    {
        byte[] payload = [.. "31 °C\u0007 "u8, 0xFF, 0xC3];

        Assert.Equal("31 °C\\x07 \\xFF\\xC3", PrintablePayload.Start(new(payload)));
    }
}
