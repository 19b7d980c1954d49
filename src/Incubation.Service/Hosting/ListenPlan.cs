using System.Globalization;

namespace Incubation.Service.Hosting;

/// <summary>
/// Which addresses to listen on, as Kestrel's own configuration. Pure: loopback until there is an owner; HTTP beyond this machine after
/// that if the settings say so; MQTT beyond it only with user and password as well. The demo never leaves this machine.
/// </summary>
internal static class ListenPlan
{
    public const string Http = "Http";
    public const string Mqtt = "Mqtt";

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
        return new Dictionary<string, string?>
        {
            [$"Endpoints:{Http}:Url"] = Url(httpBeyond, httpPort),
            [$"Endpoints:{Mqtt}:Url"] = Url(mqttBeyond, mqttPort),
        };
    }

    // "*" is every address of this machine, IPv6 and IPv4; "localhost" is both loopbacks, which can't share a port taken by chance (0).
    private static string Url(bool beyond, int port)
        => string.Create(CultureInfo.InvariantCulture, $"http://{(beyond ? "*" : port == 0 ? "127.0.0.1" : "localhost")}:{port}");
}
