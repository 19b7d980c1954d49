using System.Globalization;
using System.Text.Json.Nodes;
using Incubation.EndToEnd.Tests.Instruments;

namespace Incubation.Benchmarks.Main;

/// <summary>
/// Readings a second that the whole real path of the service acknowledges, each committed to disk before its PUBACK, beside mosquitto
/// forwarding the same messages in memory to one subscriber that counts. Rounds in turn, so that both meet the same machine.
/// </summary>
internal static class ThroughputBench
{
    public const int Window = 20;
    public const int Rounds = 5;

    public static readonly TimeSpan Round = TimeSpan.FromSeconds(4);
    private static readonly TimeSpan WarmUp = TimeSpan.FromSeconds(4);

    // {"v":31.4,"t":"2026-11-25T03:04:05Z"} is 37 bytes.
    private const string ValueField = "v";
    private const string TimeField = "t";

    public sealed record Outcome(IReadOnlyList<double> Ours, IReadOnlyList<double> Theirs);

    public static async Task<Outcome> MeasureAsync(int publishers, CancellationToken stop)
    {
        ServiceSetup setup = new();
        setup.Settings["Incubation__Mqtt__Fields__Value"] = ValueField;
        setup.Settings["Incubation__Mqtt__Fields__At"] = TimeField;
        await using ServiceProcess service = await ServiceProcess.StartAsync(setup, stop);
        await using MosquittoBroker mosquitto = await MosquittoBroker.StartAsync(stop);
        // 28 days back, a second apart: enough distinct times for every round, and each within the 30 days that a probe's clock is believed.
        ReadingPayload payload = new(ValueField, TimeField, TimeProvider.System.GetUtcNow() - TimeSpan.FromDays(28));
        long[] next = new long[publishers];
        await PlaceAsync(service, payload, next, stop);

        List<double> ours = [], theirs = [];
        for (int round = -1; round < Rounds; round++)
        {
            TimeSpan time = round < 0 ? WarmUp : Round;
            double committed = await PublishAsync(service.MqttPort, payload, next, null, time, stop);
            using CountingSubscriber counter = new();
            await counter.ConnectAsync(mosquitto.Port, stop);
            double forwarded = await PublishAsync(mosquitto.Port, payload, new long[publishers], counter, time, stop);
            if (round >= 0)
            {
                ours.Add(committed);
                theirs.Add(forwarded);
            }
        }

        return new Outcome(ours, theirs);
    }

    /// <summary>All probes are heard once and placed in five incubators, so that every reading is judged against a band.</summary>
    private static async Task PlaceAsync(ServiceProcess service, ReadingPayload payload, long[] next, CancellationToken stop)
    {
        await PublishAsync(service.MqttPort, payload, next, null, TimeSpan.FromMilliseconds(500), stop);
        using ServiceClient owner = await ServiceClient.ClaimAsync(service, stop);
        await Waiting.UntilAsync(async () => (await owner.GetAsync("/api/probes", stop))["notPlaced"]!.AsArray().Count == next.Length,
            TimeSpan.FromSeconds(60), "the probes to be known", stop);
        List<string> incubators = [];
        foreach (string name in (string[])["Hazel", "Rowan", "Alder", "Birch", "Aspen"])
        {
            incubators.Add((string)(await owner.SendAsync(HttpMethod.Post, "/api/incubators", new JsonObject { ["name"] = name }, stop))["key"]!);
        }

        for (int probe = 0; probe < next.Length; probe++)
        {
            await owner.SendAsync(HttpMethod.Post, $"/api/probes/{Name(probe)}/placements",
                new JsonObject { ["incubator"] = incubators[probe % incubators.Count], ["where"] = "air" }, stop);
        }
    }

    /// <summary>Messages a second: acknowledged to the publishers, or, with a subscriber, also counted by it, whichever is fewer.</summary>
    private static async Task<double> PublishAsync(
        int port, ReadingPayload payload, long[] next, CountingSubscriber? counter, TimeSpan time, CancellationToken stop)
    {
        List<RawPublisher> publishers = [];
        using CancellationTokenSource halt = CancellationTokenSource.CreateLinkedTokenSource(stop);
        using CancellationTokenSource end = CancellationTokenSource.CreateLinkedTokenSource(stop);
        try
        {
            for (int probe = 0; probe < next.Length; probe++)
            {
                long first = next[probe];
                publishers.Add(new RawPublisher($"incubation/bench/{Name(probe)}/temperature", Window, (message, into) => payload.Write(first + message, into), keepIds: false));
                await publishers[^1].ConnectAsync(port, Name(probe), stop);
            }

            Task counting = counter is null ? Task.CompletedTask : Task.Run(() => counter.RunAsync(end.Token), stop);
            long start = TimeProvider.System.GetTimestamp();
            Task[] running = [.. publishers.Select(publisher => Task.Run(() => publisher.RunAsync(halt.Token, stop), stop))];
            await Waiting.Pause(time, stop);
            long acknowledged = publishers.Sum(publisher => publisher.Acknowledged);
            long counted = counter?.Count ?? acknowledged;
            double seconds = TimeProvider.System.GetElapsedTime(start).TotalSeconds;
            await halt.CancelAsync();
            await Task.WhenAll(running);
            await end.CancelAsync();
            await counting;
            for (int probe = 0; probe < next.Length; probe++)
            {
                next[probe] += publishers[probe].Acknowledged;
            }

            return Math.Min(acknowledged, counted) / seconds;
        }
        finally
        {
            publishers.ForEach(publisher => publisher.Dispose());
        }
    }

    private static string Name(int probe) => string.Create(CultureInfo.InvariantCulture, $"bench-{probe:000}");
}
