using Incubation.Service.People;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Extensions.Options;

namespace Incubation.Service.Hosting;

/// <summary>Where a probe publishes, as whoever sets one up needs it.</summary>
/// <param name="Port">Port of the broker.</param>
/// <param name="Topic">Template of the topic, with parts in braces.</param>
/// <param name="Beyond">Whether it is heard from other machines too; else only from the one the service runs on.</param>
/// <param name="User">User that probes sign in with, or null when none is asked for. The password is never shown.</param>
/// <param name="Host">Name or address of an external broker, or null when the service's own machine is the broker.</param>
internal sealed record BrokerView(int Port, string Topic, bool Beyond, string? User, string? Host);

/// <summary>Says where a probe publishes.</summary>
internal static class BrokerEndpoints
{
    internal static RouteGroupBuilder MapBroker(this RouteGroupBuilder api)
    {
        api.MapGet("/broker", Show).WithName("getBroker").WithTags("Readings")
            .WithSummary("Where a probe publishes: port, topic, and whether it is heard from other machines.");
        return api;
    }

    private static Ok<BrokerView> Show(IOptions<IncubationOptions> options, PeopleRoster roster, RunMode mode, IServer server)
    {
        MqttOptions mqtt = options.Value.Mqtt;
        if (mqtt.External.IsSet)
        {
            return TypedResults.Ok(new BrokerView(mqtt.External.PortInUse, mqtt.Topic, Beyond: true, User: null, mqtt.External.Host));
        }

        // The same rule that decides what is listened on, so that the page never promises more.
        string url = ListenPlan.For(options.Value, roster.IsClaimed, mode.Demo, 0, 0)[$"Endpoints:{ListenPlan.Mqtt}:Url"]!;
        return TypedResults.Ok(new BrokerView(
            mqtt.Port != 0 ? mqtt.Port : Bound(server), mqtt.Topic, url.Contains('*', StringComparison.Ordinal),
            string.IsNullOrEmpty(mqtt.User) ? null : mqtt.User, Host: null));
    }

    // A free port was asked for: the server knows which it got. HTTP is bound first, MQTT second.
    private static int Bound(IServer server) => server.Features.Get<IServerAddressesFeature>()?.Addresses
        .Select(address => new Uri(address.Replace("*", "0.0.0.0", StringComparison.Ordinal)).Port).ElementAtOrDefault(1) ?? 0;
}
