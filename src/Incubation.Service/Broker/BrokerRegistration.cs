using Incubation.Service.Hosting;
using Incubation.Service.Readings;
using Microsoft.Extensions.Options;

namespace Incubation.Service.Broker;

/// <summary>Where readings come from: the built-in broker, or one of your own. The settings choose, and never both.</summary>
internal static class BrokerRegistration
{
    internal static IServiceCollection AddBroker(this IServiceCollection services)
    {
        services.AddSingleton<BrokerIdentity>();
        services.AddSingleton<ExternalSource>();
        services.AddSingleton<EmbeddedSource>();
        services.AddSingleton<ExternalBroker>();
        services.AddSingleton<BrokerPulse>();
        services.AddSingleton<IReadingSource>(s => IsExternal(s) ? s.GetRequiredService<ExternalSource>() : s.GetRequiredService<EmbeddedSource>());
        services.AddSingleton<IHostedService>(s => IsExternal(s) ? s.GetRequiredService<ExternalBroker>() : s.GetRequiredService<BrokerPulse>());
        services.AddSingleton<IServiceTroubles>(s => IsExternal(s) ? s.GetRequiredService<ExternalSource>() : new NoTroubles());
        services.AddSingleton<IStartupStep, BrokerOpening>();
        return services;
    }

    private static bool IsExternal(IServiceProvider services)
        => services.GetRequiredService<IOptions<IncubationOptions>>().Value.Mqtt.External.IsSet;

    // The built-in broker's trouble is told by /healthz, and by the silence that follows.
    private sealed class NoTroubles : IServiceTroubles
    {
        public IEnumerable<Core.FirstScreen.ServiceTrouble> Troubles() => [];
    }
}
