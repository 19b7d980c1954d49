using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Incubation.EndToEnd.Tests.Instruments;

namespace Incubation.EndToEnd.Tests.Broker;

/// <summary>The real service with a mosquitto as the source of its readings.</summary>
internal static partial class ListeningRoom
{
    /// <summary>How long anything may take on a busy machine before it counts as never.</summary>
    public static readonly TimeSpan Limit = TimeSpan.FromSeconds(60);

    /// <param name="broker">The broker.</param>
    /// <param name="more">Settings under Incubation__Mqtt__External.</param>
    public static ServiceSetup Setup(MosquittoServer broker, params (string Key, string Value)[] more)
    {
        ServiceSetup setup = new() { Verb = "serve --allow-test-settings" };
        setup.Settings["Incubation__Mqtt__External__Host"] = "127.0.0.1";
        setup.Settings["Incubation__Mqtt__External__Port"] = broker.ServicePort.ToString(CultureInfo.InvariantCulture);
        setup.Settings["Incubation__Test__HeartbeatSeconds"] = "1";
        foreach ((string key, string value) in more)
        {
            setup.Settings[$"Incubation__Mqtt__External__{key}"] = value;
        }

        return setup;
    }

    public static Task ConnectedAsync(ServiceProcess service, CancellationToken stop, int times = 1)
        => Waiting.UntilAsync(() => Task.FromResult(Connections(service) >= times), Limit, "the service to connect to the broker", stop);

    /// <summary>How often it was let in since its start.</summary>
    public static int Connections(ServiceProcess service) => Connected().Count(service.Log.Text);

    public static async Task<string> HeadlineAsync(ServiceClient owner, CancellationToken stop)
        => (string)(await owner.GetAsync("/api/now", stop))["headline"]!["sentence"]!;

    /// <summary>The probe as people see it, or null while it was never heard.</summary>
    public static async Task<JsonNode?> ProbeAsync(ServiceClient owner, string key, CancellationToken stop)
    {
        JsonNode lists = await owner.GetAsync("/api/probes", stop);
        return lists["placed"]!.AsArray().Concat(lists["notPlaced"]!.AsArray()).FirstOrDefault(probe => (string?)probe!["key"] == key);
    }

    public static Task<JsonNode> ProbeHeardAsync(ServiceClient owner, string key, CancellationToken stop)
        => Waiting.ForAsync(() => ProbeAsync(owner, key, stop), Limit, $"the probe {key} to be heard", stop);

    [GeneratedRegex("Connected to the broker at")]
    private static partial Regex Connected();
}
