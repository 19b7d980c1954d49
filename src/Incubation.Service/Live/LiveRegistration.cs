using Incubation.Service.Readings;

namespace Incubation.Service.Live;

/// <summary>The live feed of open pages.</summary>
internal static class LiveRegistration
{
    internal static IServiceCollection AddLive(this IServiceCollection services)
    {
        services.AddSingleton<LiveFeed>();
        services.AddSingleton<ILiveFeed>(s => s.GetRequiredService<LiveFeed>());
        services.AddSingleton<IReadingListener, LiveReadings>();
        services.AddHostedService<LiveHeartbeat>();
        return services;
    }

    internal static RouteGroupBuilder MapLive(this RouteGroupBuilder api)
    {
        LiveEndpoints.Map(api);
        return api;
    }
}
