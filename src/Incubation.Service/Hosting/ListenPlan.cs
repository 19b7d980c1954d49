using System.Globalization;
using System.Net;

namespace Incubation.Service.Hosting;

/// <summary>
/// Which addresses to listen on, as Kestrel's own configuration. Pure: loopback until there is an owner; HTTP beyond this machine after
/// that if the settings say so; MQTT beyond it only with user and password as well. The demo never leaves this machine. With an external
/// broker there is no MQTT at all: readings have one way in, with one promise, and the port is free for that broker.
/// </summary>
internal static class ListenPlan
{
    public const string Http = "Http";
    public const string Mqtt = "Mqtt";

    /// <summary>Addresses that are opened while the service runs. A machine with more gets the rest at its next start.</summary>
    public const int MostAddresses = 16;

    /// <param name="options">Settings.</param>
    /// <param name="claimed">Whether the facility has an owner.</param>
    /// <param name="demo">Whether this is the demo.</param>
    /// <param name="httpPort">Port to use; differs from the setting when that is 0 and a port has been taken already.</param>
    /// <param name="mqttPort">The same for MQTT.</param>
    public static Dictionary<string, string?> For(IncubationOptions options, bool claimed, bool demo, int httpPort, int mqttPort)
    {
        bool open = claimed && !demo;
        bool httpBeyond = open && options.Http.Listen == "any";
        bool mqttBeyond = open && !string.IsNullOrEmpty(options.Mqtt.User) && !string.IsNullOrEmpty(options.Mqtt.Password);
        var plan = new Dictionary<string, string?> { [$"Endpoints:{Http}:Url"] = Url(httpBeyond, httpPort) };
        if (!options.Mqtt.External.IsSet)
        {
            plan[$"Endpoints:{Mqtt}:Url"] = Url(mqttBeyond, mqttPort);
        }

        return plan;
    }

    /// <summary>
    /// The same for a service that runs already: the loopback stays as it is, so that no page and no probe on this machine is cut off,
    /// and each given address of this machine is added on the same port.
    /// </summary>
    /// <param name="options">Settings.</param>
    /// <param name="demo">Whether this is the demo.</param>
    /// <param name="httpPort">Port in use.</param>
    /// <param name="mqttPort">Port in use.</param>
    /// <param name="httpNow">Address as it was bound at the start.</param>
    /// <param name="mqttNow">Address as it was bound at the start, or null when there is none.</param>
    /// <param name="addresses">Addresses of this machine beyond the loopback.</param>
    public static Dictionary<string, string?> Beside(
        IncubationOptions options, bool demo, int httpPort, int mqttPort, string httpNow, string? mqttNow, IReadOnlyList<IPAddress> addresses)
    {
        Dictionary<string, string?> wanted = For(options, claimed: true, demo, httpPort, mqttPort);
        var plan = new Dictionary<string, string?>();
        Add(plan, Http, httpNow, wanted[$"Endpoints:{Http}:Url"], httpPort, addresses);
        if (mqttNow is not null)
        {
            Add(plan, Mqtt, mqttNow, wanted[$"Endpoints:{Mqtt}:Url"], mqttPort, addresses);
        }

        return plan;
    }

    /// <summary>Name of the endpoint on the address of that number; Kestrel's set-up needs it before the address is known.</summary>
    public static string Beyond(string name, int number) => string.Create(CultureInfo.InvariantCulture, $"{name}Beyond{number}");

    private static void Add(
        Dictionary<string, string?> plan, string name, string now, string? wanted, int port, IReadOnlyList<IPAddress> addresses)
    {
        plan[$"Endpoints:{name}:Url"] = now;
        if (wanted?.StartsWith("http://*", StringComparison.Ordinal) != true)
        {
            return;
        }

        for (int i = 0; i < Math.Min(addresses.Count, MostAddresses); i++)
        {
            plan[$"Endpoints:{Beyond(name, i)}:Url"] = $"http://{new IPEndPoint(addresses[i], port)}";
        }
    }

    // "*" is every address of this machine, IPv6 and IPv4; "localhost" is both loopbacks, which can't share a port taken by chance (0).
    private static string Url(bool beyond, int port)
        => string.Create(CultureInfo.InvariantCulture, $"http://{(beyond ? "*" : port == 0 ? "127.0.0.1" : "localhost")}:{port}");
}
