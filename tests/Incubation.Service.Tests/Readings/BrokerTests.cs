using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Service.Readings;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Formatter;
using Xunit;

namespace Incubation.Service.Tests.Readings;

public sealed class BrokerTests
{
    private const string Topic = "incubation/hazel/hazel-air/temperature";
    private static readonly SeriesKey Series = new("hazel-air", Quantity.Temperature);

    [Theory]
    [InlineData(MqttProtocolVersion.V311)]
    [InlineData(MqttProtocolVersion.V500)]
    public async Task A_reading_is_stored_before_it_is_acknowledged(MqttProtocolVersion version)
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host, version);

        MqttClientPublishResult result = await probe.PublishAsync(Topic, "31.4");

        Assert.True(result.IsSuccess);
        Reading stored = Assert.Single(host.Services.GetRequiredService<IReadingStore>().Latest());
        Assert.Equal(Series, stored.Series);
        Assert.Equal(31.4, stored.Value);
        Assert.Equal(31.4, host.Services.GetRequiredService<ILatestReadings>().LatestGood(Series)?.Value);
    }

    [Fact]
    public async Task MosquittoPub_publishes_a_reading()
    {
        const string program = "/usr/bin/mosquitto_pub";
        Assert.SkipUnless(File.Exists(program), "mosquitto_pub is not installed.");
        await using IntakeHost host = await IntakeHost.StartAsync();
        ProcessStartInfo start = new(program)
        {
            ArgumentList =
            {
                "-h", "127.0.0.1", "-p", host.MqttPort.ToString(CultureInfo.InvariantCulture), "-q", "1", "-i", "hazel-air", "-t", Topic,
                "-m", """{"value":88.7,"unit":"[degF]"}""",
            },
        };

        using Process publisher = Process.Start(start)!;
        await publisher.WaitForExitAsync(TestContext.Current.CancellationToken);

        Assert.Equal(0, publisher.ExitCode);
        Assert.Equal(31.5, host.Services.GetRequiredService<IReadingStore>().Latest().Single().Value, 9);
    }

    [Fact]
    public async Task A_failing_store_refuses_an_mqtt5_client_with_the_reason_and_the_listeners_hear_all_the_same()
    {
        TroubledStore store = new() { Fails = true };
        await using IntakeHost host = await IntakeHost.StartAsync(s => s.Replace(ServiceDescriptor.Singleton<IReadingStore>(store)));
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);

        MqttClientPublishResult refused = await probe.PublishAsync(Topic, "31.4");

        Assert.Equal(MqttClientPublishReasonCode.ImplementationSpecificError, refused.ReasonCode);
        Assert.Equal("The disk is full. Make room.", refused.ReasonString);
        Assert.Equal(31.4, host.Services.GetRequiredService<ILatestReadings>().Latest(Series)?.Value);
        store.Fails = false;
        Assert.True((await probe.PublishAsync(Topic, "31.4")).IsSuccess);
        Assert.Single(store.Stored);
    }

    [Fact]
    public async Task A_failing_store_closes_the_connection_of_an_mqtt3_client_without_an_acknowledgement()
    {
        TroubledStore store = new() { Fails = true };
        await using IntakeHost host = await IntakeHost.StartAsync(s => s.Replace(ServiceDescriptor.Singleton<IReadingStore>(store)));
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host, MqttProtocolVersion.V311);

        await Assert.ThrowsAnyAsync<MqttCommunicationException>(() => probe.PublishAsync(Topic, "31.4"));

        await Eventually.True(() => !probe.IsConnected, "the connection is closed");
    }

    [Fact]
    public async Task A_listener_that_throws_costs_neither_the_store_nor_the_next_listener_the_reading()
    {
        await using IntakeHost host = await IntakeHost.StartAsync(s => s.Insert(0, ServiceDescriptor.Singleton<IReadingListener, Thrower>()));
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);

        Assert.True((await probe.PublishAsync(Topic, "31.4")).IsSuccess);

        Assert.Single(host.Services.GetRequiredService<IReadingStore>().Latest());
        Assert.Equal(31.4, host.Services.GetRequiredService<ILatestReadings>().Latest(Series)?.Value);
    }

    [Fact]
    public async Task Nobody_but_the_service_publishes_on_the_alarm_topic()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient siren = await ProbeClient.ConnectAsync(host);
        await using ProbeClient intruder = await ProbeClient.ConnectAsync(host);
        await siren.SubscribeAsync("incubation/+/alarm");

        MqttClientPublishResult refused = await intruder.PublishAsync("incubation/hazel/alarm", "{}");

        Assert.Equal(MqttClientPublishReasonCode.NotAuthorized, refused.ReasonCode);
        Assert.Equal(0, siren.HeardOn("incubation/hazel/alarm"));
        Assert.Contains("Only the service", (await host.GetAsync("/api/rejected-messages"))[0].GetProperty("reason").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Others_who_subscribe_hear_the_readings_and_then_no_more()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        BrokerBounds bounds = host.Services.GetRequiredService<BrokerBounds>();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);
        Assert.False(bounds.AnyoneListens);
        ProbeClient display = await ProbeClient.ConnectAsync(host);
        await display.SubscribeAsync("incubation/#");
        Assert.True(bounds.AnyoneListens);

        await probe.PublishAsync(Topic, "31.4");

        await Eventually.True(() => display.HeardOn(Topic) == 1, "the display hears the reading");
        await display.DisposeAsync();
        await Eventually.True(() => !bounds.AnyoneListens, "the broker knows that nobody listens");
    }

    [Fact]
    public async Task A_retained_reading_from_a_probe_is_live_and_good()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = await ProbeClient.ConnectAsync(host);

        await probe.PublishAsync(Topic, "31.4", retain: true);

        Assert.True(host.Services.GetRequiredService<ILatestReadings>().Latest(Series)!.Value.IsGood);
        await using ProbeClient display = await ProbeClient.ConnectAsync(host);
        await display.SubscribeAsync("incubation/#");
        await Eventually.True(() => display.HeardOn(Topic) == 1, "the broker kept it for whoever comes later");
        Assert.True((await probe.PublishAsync(Topic, "", retain: true)).IsSuccess);
        Assert.Equal(0, (await host.GetAsync("/api/rejected-messages")).GetArrayLength());
    }

    [Fact]
    public async Task The_status_topic_says_online_and_the_last_will_offline()
    {
        const string status = "incubation/hazel/hazel-air/status";
        await using IntakeHost host = await IntakeHost.StartAsync();
        ProbeClient probe = await ProbeClient.ConnectAsync(host, willTopic: status);
        await probe.PublishAsync(Topic, "31.4");
        await probe.PublishAsync(status, "online", retain: true);
        Assert.True(await OnlineAsync());

        await probe.DisposeAsync();

        await Eventually.True(async () => !await OnlineAsync(), "the last will says offline");
        await using ProbeClient other = await ProbeClient.ConnectAsync(host);
        MqttClientPublishResult refused = await other.PublishAsync(status, "asleep");
        Assert.Equal(MqttClientPublishReasonCode.PayloadFormatInvalid, refused.ReasonCode);

        async Task<bool> OnlineAsync()
        {
            JsonElement probes = await host.GetAsync("/api/probes");
            return probes.GetProperty("notPlaced")[0].GetProperty("online").GetBoolean();
        }
    }

    [Fact]
    public async Task With_user_and_password_set_a_wrong_password_is_refused_and_this_machine_needs_none()
    {
        await using IntakeHost host = await IntakeHost.StartAsync(settings: o => (o.Mqtt.User, o.Mqtt.Password) = ("probes", "a long secret"));
        await using ProbeClient none = await ProbeClient.ConnectAsync(host);
        await using ProbeClient right = await ProbeClient.ConnectAsync(host, user: "probes", password: "a long secret");
        await using ProbeClient wrong = new();

        MqttClientConnectResult refused = await wrong.TryConnectAsync(host, user: "probes", password: "a long secreT");

        Assert.Equal(MqttClientConnectResultCode.BadUserNameOrPassword, refused.ResultCode);
    }

    [Fact]
    public async Task A_client_id_longer_than_the_bound_is_refused()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await using ProbeClient probe = new();

        MqttClientConnectResult refused = await probe.TryConnectAsync(host, id: new string('x', Limits.ClientIdLength + 1));

        Assert.Equal(MqttClientConnectResultCode.ClientIdentifierNotValid, refused.ResultCode);
    }

    [Fact]
    public async Task The_service_hears_its_own_pulse_through_the_broker_and_keeps_it_to_itself()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        WorkerBoard board = host.Services.GetRequiredService<WorkerBoard>();

        for (int i = 0; i < 6; i++)
        {
            // Each beat that is acknowledged takes the age back to zero; without it the worker stalls after ninety seconds.
            host.Time.Advance(TimeSpan.FromSeconds(20));
            await Eventually.True(() => Broker().SecondsSinceProgress == 0, "the broker acknowledges the pulse");
        }

        Assert.Equal("running", Broker().State);
        Assert.Equal(0, (await host.GetAsync("/api/rejected-messages")).GetArrayLength());

        WorkerHealth Broker() => board.Pulses.Select(p => p.Health()).Single(h => h.Name == "broker");
    }

    private sealed class Thrower : IReadingListener
    {
        public void Observe(in Reading reading) => throw new InvalidOperationException("A fault of a listener.");
    }
}
