using Incubation.Service.Clutches;
using Incubation.Service.Readings;

namespace Incubation.Service.Development;

/// <summary>What a clutch went through, how far it is, and when it pips.</summary>
internal static class DevelopmentRegistration
{
    internal static IServiceCollection AddDevelopment(this IServiceCollection services)
    {
        services.AddSingleton<SeriesDays>();
        services.AddSingleton<IReadingListener>(s => s.GetRequiredService<SeriesDays>());
        services.AddSingleton<PlacementHistory>();
        services.AddSingleton<Climate>();
        services.AddSingleton<HatchForecasts>();
        services.AddSingleton<IClutchForecast>(s => s.GetRequiredService<HatchForecasts>());
        services.AddSingleton<LifeStrip>();
        services.AddHostedService<ForecastKeeping>();
        return services;
    }

    internal static RouteGroupBuilder MapDevelopment(this RouteGroupBuilder api)
    {
        StripEndpoints.Map(api);
        return api;
    }
}
