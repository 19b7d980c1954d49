using System.Globalization;
using Incubation.Service.Hosting;
using Microsoft.Extensions.Options;

namespace Incubation.Service.CommandLine;

/// <summary>Words for what goes wrong when the network is opened.</summary>
internal static class StartWords
{
    /// <summary>The setting whose port is taken, or null when the error is about something else.</summary>
    public static string? PortInUse(IOException error, IServiceProvider services)
    {
        if (error.InnerException is not Microsoft.AspNetCore.Connections.AddressInUseException)
        {
            return null;
        }

        IncubationOptions options = services.GetRequiredService<IOptions<IncubationOptions>>().Value;
        bool mqtt = error.Message.Contains(string.Create(CultureInfo.InvariantCulture, $":{options.Mqtt.Port}"), StringComparison.Ordinal);
        (string key, int port) = mqtt ? ("Incubation:Mqtt:Port", options.Mqtt.Port) : ("Incubation:Http:Port", options.Http.Port);
        return string.Create(CultureInfo.InvariantCulture,
            $"{key} is {port}, which another program is using. Allowed: a free port from 1 to 65535, or 0 to take any free one.");
    }
}
