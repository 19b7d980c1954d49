using Incubation.Service.Hosting;
using Microsoft.Extensions.Options;

namespace Incubation.Service.Broker;

/// <summary>Wrong files are told at the start. A broker that is away is not: the rest of the service works without it, and says so.</summary>
internal sealed class BrokerOpening(BrokerIdentity identity, IOptions<IncubationOptions> options) : IStartupStep
{
    public StartupStage Stage => StartupStage.Network;

    public Task RunAsync(CancellationToken cancellationToken)
    {
        ExternalBrokerOptions external = options.Value.Mqtt.External;
        if (external.IsSet)
        {
            _ = identity.ClientId;
            if (external.Tls)
            {
                new BrokerTrust(external).Dispose();
            }
        }

        return Task.CompletedTask;
    }
}
