using System.Buffers;
using System.Globalization;
using System.Text;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Service.Probes;
using Incubation.Service.Readings;
using Microsoft.Extensions.DependencyInjection;
using MQTTnet.Protocol;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Readings;

/// <summary>The way in without a broker: what becomes of a message by how it came and what it says.</summary>
public sealed class ReadingIntakeTests
{
    private const string Topic = "incubation/hazel/hazel-air/temperature";

    [Fact]
    public async Task Take_what_a_broker_had_kept_is_stored_and_shown_but_never_fresh()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();

        await TakeAsync(host, Topic, "31.4", Delivery.Kept);

        LatestReadings latest = host.Services.GetRequiredService<LatestReadings>();
        SeriesKey series = new("hazel-air", Quantity.Temperature);
        Assert.Equal(ReadingMarks.Retained | ReadingMarks.ArrivalTime, latest.Latest(series)!.Value.Marks);
        Assert.Null(latest.LatestGood(series));
        Assert.Null(latest.GoodHeardAt(series));
        await TakeAsync(host, Topic, "31.5", Delivery.Subscribed);
        Assert.Equal(31.5, latest.LatestGood(series)!.Value.Value);
    }

    [Fact]
    public async Task Take_own_alarm_coming_back_on_a_subscription_is_nobodys_and_published_by_a_client_it_is_refused()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();

        Assert.True(Given(host, "incubation/hazel/alarm", "{}", Delivery.Subscribed).IsElsewhere);
        Assert.Equal(MqttPubAckReasonCode.NotAuthorized, Given(host, "incubation/hazel/alarm", "{}", Delivery.Published).Code);
    }

    [Fact]
    public async Task Take_pack_of_a_gateway_is_of_the_probes_it_names_and_what_is_left_out_is_listed()
    {
        await using IntakeHost host = await IntakeHost.StartAsync(settings: o => o.Mqtt.Topic = "yard/{probe}");

        IntakeResult result = await TakeAsync(host, "yard/gateway",
            """[{"bn":"p7:","n":"temperature","u":"Cel","v":31.4},{"n":"humidity","v":86},{"bn":"p8:","n":"temperature","v":400},{"n":"door","vb":true}]""");

        Assert.Equal((null, MqttPubAckReasonCode.Success), (result.Rejection, result.Code));
        Assert.Equal(
            ["p7/humidity 86", "p7/temperature 31.4", "p8/door 1"],
            host.Services.GetRequiredService<IReadingStore>().Latest().Select(r => FormattableString.Invariant($"{r.Series} {r.Value}")).Order(StringComparer.Ordinal));
        ProbeRegister probes = host.Services.GetRequiredService<ProbeRegister>();
        Assert.Equal(["p7", "p8"], probes.All.Select(p => p.Key).Order(StringComparer.Ordinal));
        Assert.Contains("above 80", Assert.Single(host.Services.GetRequiredService<RejectedMessages>().List()).Reason, StringComparison.Ordinal);
        await TakeAsync(host, "yard/p8/status", """{"state":"offline"}""");
        Assert.False(probes.Find("p8")!.Online);
    }

    [Fact]
    public async Task Take_object_with_fields_as_configured_gives_all_its_quantities_at_one_time()
    {
        await using IntakeHost host = await IntakeHost.StartAsync(settings: o => o.Mqtt.Fields.Quantities = new() { ["tempF"] = "temperature degF" });

        await TakeAsync(host, "incubation/hazel/p7/readings", """{"tempF":88.52,"humidity":86,"battery":3710,"at":"2026-11-25T02:59:50Z"}""");

        Reading[] latest = [.. host.Services.GetRequiredService<IReadingStore>().Latest()];
        Assert.Equal(["p7/humidity", "p7/temperature"], latest.Select(r => r.Series.ToString()).Order(StringComparer.Ordinal));
        Assert.All(latest, r => Assert.Equal(Instant.FromUtc(2026, 11, 25, 2, 59, 50), r.At));
    }

    [Fact]
    public async Task Take_times_of_a_probe_tell_how_far_its_clock_is_off_and_kept_ones_do_not()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        await TakeAsync(host, Topic, """{"value":31.4,"at":"2026-11-25T02:00:00Z"}""", Delivery.Kept);
        KnownProbe probe = host.Services.GetRequiredService<ProbeRegister>().Find("hazel-air")!;
        Assert.Null(probe.Skew);

        for (int i = 0; i < 5; i++)
        {
            DateTimeOffset clock = host.Time.GetUtcNow() + TimeSpan.FromSeconds(90);
            await TakeAsync(host, Topic, $"{{\"value\":31.4,\"at\":{clock.ToUnixTimeMilliseconds().ToString(CultureInfo.InvariantCulture)}}}");
            host.Time.Advance(TimeSpan.FromSeconds(20));
        }

        Assert.Equal(90, probe.Skew!.Value.TotalSeconds);
        Assert.Null(probe.ClockOff);
        await TakeAsync(host, Topic, """{"value":31.4,"at":"1970-01-01T00:00:12Z"}""");
        Assert.Equal(90, probe.Skew!.Value.TotalSeconds);
        Assert.True(probe.ClockOff < Duration.FromDays(-365));
    }

    [Fact]
    public async Task Take_more_quantities_than_a_probe_may_have_are_rejected_and_the_known_ones_go_on()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        for (int i = 0; i < Limits.QuantitiesPerProbe; i++)
        {
            await TakeAsync(host, FormattableString.Invariant($"incubation/hazel/p7/q{i}"), "1");
        }

        IntakeResult refused = Given(host, "incubation/hazel/p7/one-more", "1");
        IntakeResult taken = await TakeAsync(host, "incubation/hazel/p7/q0", "2");

        Assert.Contains("more quantities", refused.Rejection, StringComparison.Ordinal);
        Assert.Equal(MqttPubAckReasonCode.QuotaExceeded, refused.Code);
        Assert.Null(taken.Rejection);
    }

    [Fact]
    public async Task Take_payload_in_pieces_is_read_like_one_in_a_piece()
    {
        await using IntakeHost host = await IntakeHost.StartAsync();
        Piece first = new("{\"value\":"u8.ToArray());
        Piece last = first.Then("31.4}"u8.ToArray());

        await Intake(host).Take(Topic, new ReadOnlySequence<byte>(first, 0, last, last.Memory.Length), Delivery.Published).Commit;

        Assert.Equal(31.4, host.Services.GetRequiredService<IReadingStore>().Latest().Single().Value);
    }

    private static ReadingIntake Intake(IntakeHost host) => host.Services.GetRequiredService<ReadingIntake>();

    private static IntakeResult Given(IntakeHost host, string topic, string payload, Delivery delivery = Delivery.Published)
        => Intake(host).Take(topic, new ReadOnlySequence<byte>(Encoding.UTF8.GetBytes(payload)), delivery);

    private static async Task<IntakeResult> TakeAsync(IntakeHost host, string topic, string payload, Delivery delivery = Delivery.Published)
    {
        IntakeResult result = Given(host, topic, payload, delivery);
        await result.Commit;
        return result;
    }

    private sealed class Piece : ReadOnlySequenceSegment<byte>
    {
        public Piece(byte[] bytes) => Memory = bytes;

        public Piece Then(byte[] bytes)
        {
            Piece next = new(bytes) { RunningIndex = RunningIndex + Memory.Length };
            Next = next;
            return next;
        }
    }
}
