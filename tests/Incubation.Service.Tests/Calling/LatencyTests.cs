using System.Globalization;
using System.Net.Http.Json;
using System.Text.Json;
using Incubation.Service.Alarms;
using Incubation.Service.Tests.Hosting;
using Microsoft.Extensions.DependencyInjection;
using MQTTnet;
using MQTTnet.Protocol;
using Xunit;

namespace Incubation.Service.Tests.Calling;

public sealed class LatencyTests
{
    /// <summary>
    /// The way of a reading from a real MQTT client to a real HTTP receiver, with no on-delay, in one process. Times are shown and not
    /// judged: that is for the benchmarks, on a machine that does nothing else.
    /// </summary>
    [Fact]
    public async Task From_the_publish_to_the_webhook_every_reading_beyond_the_limit_calls_once()
    {
        const int rounds = 60;
        await using HookReceiver hook = await HookReceiver.StartAsync();
        await using RunningService service = await RunningService.StartAsync();
        using HttpClient keeper = await service.ClaimedAsync();
        using HttpResponseMessage made = await keeper.PostAsJsonAsync("/api/incubators", new { name = "Hazel" }, NightHouse.Stop);
        string incubator = (await made.Content.ReadFromJsonAsync<JsonElement>(NightHouse.Stop)).GetProperty("key").GetString()!;
        using IMqttClient probe = new MqttClientFactory().CreateMqttClient();
        await probe.ConnectAsync(
            new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", RunningService.PortOf(service.Addresses[1])).Build(), NightHouse.Stop);
        await PublishAsync(probe, 31.4);
        await Eventually.TrueAsync(
            () => service.Services.GetRequiredService<Incubation.Service.Probes.ProbeRegister>().Find("p1")!.Recorded, "the record of the probe");
        await Ok(keeper.PostAsJsonAsync("/api/probes/p1/placements", new { incubator, where = "air" }, NightHouse.Stop));
        await Ok(keeper.PutAsJsonAsync($"/api/incubators/{incubator}/bands/temperature", new
        {
            dangerHigh = 33.5,
            deadband = 0.2,
            warningOnDelaySeconds = 0,
            dangerOnDelaySeconds = 0,
            offDelaySeconds = 0,
            silentAfterSeconds = 600,
        }, NightHouse.Stop));
        await Ok(keeper.PutAsJsonAsync("/api/call-out", new { steps = new[] { NightHouse.Hook("Bo", hook.Address, repeat: 0) } }, NightHouse.Stop));

        IAlarmDesk desk = service.Services.GetRequiredService<IAlarmDesk>();
        List<double> milliseconds = [];
        var arrived = new SemaphoreSlim(0);
        hook.Answer = _ =>
        {
            arrived.Release();
            return Task.CompletedTask;
        };
        for (int i = 0; i < rounds; i++)
        {
            long start = TimeProvider.System.GetTimestamp();
            await PublishAsync(probe, 34.1);
            await arrived.WaitAsync(TimeSpan.FromSeconds(20), NightHouse.Stop);
            milliseconds.Add(TimeProvider.System.GetElapsedTime(start).TotalMilliseconds);
            desk.Answer(desk.Standing().Single().Occurrence, "Bo");
            await PublishAsync(probe, 31.4);
            await Eventually.TrueAsync(() => desk.Standing().Count == 0, "the end of the alarm");
        }

        Assert.Equal(rounds, hook.Posts.Count);
        Assert.Equal(rounds, hook.Posts.Select(p => p.Id).Distinct().Count());
        // The first pays for what the runtime and the database compile once.
        double[] warm = [.. milliseconds.Skip(1).Order()];
        TestContext.Current.TestOutputHelper?.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"first {milliseconds[0]:0.0} ms, then p50 {warm[warm.Length / 2]:0.0} ms, p99 {warm[(int)(warm.Length * 0.99)]:0.0} ms"));
    }

    private static async Task PublishAsync(IMqttClient probe, double value)
    {
        MqttClientPublishResult result = await probe.PublishAsync(
            new MqttApplicationMessageBuilder().WithTopic("incubation/hazel/p1/temperature").WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce)
                .WithPayload(value.ToString(CultureInfo.InvariantCulture)).Build(), NightHouse.Stop);
        Assert.True(result.IsSuccess, result.ReasonString);
    }

    private static async Task Ok(Task<HttpResponseMessage> asked)
    {
        using HttpResponseMessage answer = await asked;
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync(NightHouse.Stop));
    }
}
