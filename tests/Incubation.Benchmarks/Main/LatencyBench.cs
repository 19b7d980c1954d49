using System.Globalization;
using System.Text;
using System.Text.Json.Nodes;
using Incubation.EndToEnd.Tests.Instruments;

namespace Incubation.Benchmarks.Main;

/// <summary>
/// From the moment before a reading out of band is sent, to the signed webhook being received whole, less the on-delay. One alarm per
/// incubator, one after the other, on the real program.
/// </summary>
internal static class LatencyBench
{
    public const int OnDelaySeconds = 1;
    private const int Incubators = 200;

    private static readonly TimeSpan Between = TimeSpan.FromMilliseconds(40);

    /// <summary>Milliseconds over the on-delay, one per alarm, in the order in which they were raised.</summary>
    public static async Task<IReadOnlyList<double>> MeasureAsync(CancellationToken stop)
    {
        await using WebhookReceiver webhooks = new();
        await using ServiceProcess service = await ServiceProcess.StartAsync(new ServiceSetup(), stop);
        using ServiceClient owner = await ServiceClient.ClaimAsync(service, stop);
        using MqttPeer probes = new();
        await probes.ConnectAsync(service.MqttPort, "latency", stop);
        using CancellationTokenSource end = CancellationTokenSource.CreateLinkedTokenSource(stop);
        Task hearing = HearAsync(probes, end.Token);
        Dictionary<string, int> incubators = await ArrangeAsync(owner, probes, webhooks, stop);

        long[] sent = new long[Incubators];
        for (int number = 0; number < Incubators; number++)
        {
            sent[number] = TimeProvider.System.GetTimestamp();
            await PublishAsync(probes, number, "33.0", stop);
            await Waiting.Pause(Between, stop);
        }

        await Waiting.UntilAsync(() => Task.FromResult(Raised(webhooks).Count() >= Incubators), TimeSpan.FromSeconds(60), "every webhook", stop);
        await end.CancelAsync();
        await hearing;
        if (webhooks.All.FirstOrDefault(call => call.Fault is not null) is { } wrong)
        {
            throw new InvalidOperationException($"A webhook was not genuine: {wrong.Fault}.");
        }

        return
        [
            .. Raised(webhooks).OrderBy(call => incubators[(string)call.Body["data"]!["incubator"]!]).Select(call => TimeProvider.System.GetElapsedTime(sent[incubators[(string)call.Body["data"]!["incubator"]!]], call.Timestamp).TotalMilliseconds
                - (OnDelaySeconds * 1000)),
        ];
    }

    private static IEnumerable<WebhookReceiver.Received> Raised(WebhookReceiver webhooks)
        => webhooks.All.Where(call => call.Type == "alarm.raised").DistinctBy(call => (string)call.Body["data"]!["incubator"]!);

    /// <summary>Incubators by key, each with one placed probe, a short on-delay, and one webhook to call.</summary>
    private static async Task<Dictionary<string, int>> ArrangeAsync(ServiceClient owner, MqttPeer probes, WebhookReceiver webhooks, CancellationToken stop)
    {
        for (int number = 0; number < Incubators; number++)
        {
            await PublishAsync(probes, number, "31.4", stop);
        }

        await Waiting.UntilAsync(async () => (await owner.GetAsync("/api/probes", stop))["notPlaced"]!.AsArray().Count == Incubators,
            TimeSpan.FromSeconds(20), "the probes to be known", stop);
        Dictionary<string, int> incubators = [];
        for (int number = 0; number < Incubators; number++)
        {
            string key = (string)(await owner.SendAsync(HttpMethod.Post, "/api/incubators",
                new JsonObject { ["name"] = string.Create(CultureInfo.InvariantCulture, $"Cabinet {number:000}") }, stop))["key"]!;
            incubators[key] = number;
            await owner.SendAsync(HttpMethod.Post, $"/api/probes/{Name(number)}/placements", new JsonObject { ["incubator"] = key, ["where"] = "air" }, stop);
            await owner.SendAsync(HttpMethod.Put, $"/api/incubators/{key}/bands/temperature", new JsonObject
            {
                ["dangerLow"] = 29.5,
                ["warningLow"] = 30.5,
                ["warningHigh"] = 32.5,
                ["dangerHigh"] = 33.5,
                ["deadband"] = 0.2,
                ["warningOnDelaySeconds"] = OnDelaySeconds,
                ["dangerOnDelaySeconds"] = OnDelaySeconds,
                ["offDelaySeconds"] = 60,
                ["silentAfterSeconds"] = 3600,
            }, stop);
        }

        await owner.SendAsync(HttpMethod.Put, "/api/call-out", new JsonObject
        {
            ["steps"] = new JsonArray(new JsonObject
            {
                ["who"] = "The bell",
                ["channel"] = "webhook",
                ["address"] = webhooks.Address,
                ["secret"] = webhooks.Secret,
                ["afterSeconds"] = 0,
                ["repeatSeconds"] = 3600,
                ["enabled"] = true,
            }),
        }, stop);
        return incubators;
    }

    private static Task PublishAsync(MqttPeer probes, int number, string value, CancellationToken stop)
    {
        byte[] packet = new byte[128];
        int length = MqttWire.Publish(packet, Encoding.UTF8.GetBytes($"incubation/latency/{Name(number)}/temperature"), Encoding.UTF8.GetBytes(value), (ushort)(number + 1));
        return probes.SendAsync(packet.AsMemory(0, length), stop);
    }

    private static async Task HearAsync(MqttPeer probes, CancellationToken stop)
    {
        try
        {
            while (await probes.ReceiveAsync((_, _) => { }, stop))
            {
                // Acknowledgements; the webhook is what counts.
            }
        }
        catch (OperationCanceledException)
        {
            // Measured.
        }
    }

    private static string Name(int number) => string.Create(CultureInfo.InvariantCulture, $"latency-{number:000}");
}
