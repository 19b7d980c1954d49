using System.Text.Json.Nodes;
using Incubation.EndToEnd.Tests.Instruments;

namespace Incubation.EndToEnd.Tests.Night;

/// <summary>A small facility on the real program: an owner, one incubator with one placed probe, and someone to call.</summary>
internal sealed class EggRoom : IAsyncDisposable
{
    public const string Probe = "hazel-air";
    public const string Topic = "incubation/hazel/hazel-air/temperature";
    public const int WarningOnDelay = 3;
    public const int DangerOnDelay = 2;

    private EggRoom(ServiceProcess service, ServiceClient owner, Mosquitto probes, string incubator)
        => (Service, Owner, Probes, Incubator) = (service, owner, probes, incubator);

    public ServiceProcess Service { get; }

    public ServiceClient Owner { get; }

    public Mosquitto Probes { get; }

    public string Incubator { get; }

    public static async Task<EggRoom> OpenAsync(ServiceSetup setup, CancellationToken stop)
    {
        ServiceProcess service = await ServiceProcess.StartAsync(setup, stop);
        ServiceClient owner = await ServiceClient.ClaimAsync(service, stop);
        string incubator = (string)(await owner.SendAsync(HttpMethod.Post, "/api/incubators", new JsonObject { ["name"] = "Hazel" }, stop))["key"]!;
        EggRoom room = new(service, owner, new Mosquitto(service.MqttPort), incubator);
        await room.Probes.PublishAsync(Topic, "31.4", stop);
        await room.PlaceAsync(Probe, stop);
        await room.SetBandAsync(WarningOnDelay, DangerOnDelay, silentAfter: 600, stop);
        return room;
    }

    /// <summary>The probe that was just heard appears as not yet placed; it is placed in one step.</summary>
    public async Task PlaceAsync(string probe, CancellationToken stop)
    {
        await Waiting.UntilAsync(async () => (await Owner.GetAsync("/api/probes", stop))["notPlaced"]!.AsArray().Any(heard => (string?)heard!["key"] == probe),
            TimeSpan.FromSeconds(10), "the new probe to appear as not yet placed", stop);
        await Owner.SendAsync(HttpMethod.Post, $"/api/probes/{probe}/placements", new JsonObject { ["incubator"] = Incubator, ["where"] = "air, middle" }, stop);
    }

    public Task SetBandAsync(int warningOnDelay, int dangerOnDelay, int silentAfter, CancellationToken stop)
        => Owner.SendAsync(HttpMethod.Put, $"/api/incubators/{Incubator}/bands/temperature", new JsonObject
        {
            ["dangerLow"] = 29.5,
            ["warningLow"] = 30.5,
            ["warningHigh"] = 32.5,
            ["dangerHigh"] = 33.5,
            ["deadband"] = 0.2,
            ["warningOnDelaySeconds"] = warningOnDelay,
            ["dangerOnDelaySeconds"] = dangerOnDelay,
            ["offDelaySeconds"] = 2,
            ["silentAfterSeconds"] = silentAfter,
        }, stop);

    public Task CallAsync(WebhookReceiver webhooks, int repeatSeconds, CancellationToken stop)
        => Owner.SendAsync(HttpMethod.Put, "/api/call-out", new JsonObject
        {
            ["steps"] = new JsonArray(
                Step("Ines", "mail", "ines@egg-room.example", null, repeatSeconds),
                Step("The bell", "webhook", webhooks.Address, webhooks.Secret, repeatSeconds)),
        }, stop);

    /// <summary>The standing alarms, as the service tells them.</summary>
    public async Task<IReadOnlyList<JsonNode>> AlarmsAsync(CancellationToken stop)
        => [.. (await Owner.GetAsync("/api/alarms", stop)).AsArray().Select(alarm => alarm!)];

    public async Task<JsonNode?> AlarmAsync(string severity, CancellationToken stop)
        => (await AlarmsAsync(stop)).FirstOrDefault(alarm => (string?)alarm["severity"] == severity && (string?)alarm["condition"] == "high");

    public async ValueTask DisposeAsync()
    {
        Owner.Dispose();
        await Service.DisposeAsync();
    }

    private static JsonObject Step(string who, string channel, string address, string? secret, int repeatSeconds)
    {
        JsonObject step = new()
        {
            ["who"] = who,
            ["channel"] = channel,
            ["address"] = address,
            ["afterSeconds"] = 0,
            ["repeatSeconds"] = repeatSeconds,
            ["enabled"] = true,
        };
        if (secret is not null)
        {
            step["secret"] = secret;
        }

        return step;
    }
}
