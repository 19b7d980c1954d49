using Incubation.Service.Clutches;
using Incubation.Service.Hosting;

namespace Incubation.Service.Tint;

/// <summary>Tints: the keeper's words for them, and how often a tint was right about a trait.</summary>
internal static class TintRegistration
{
    internal static IServiceCollection AddTint(this IServiceCollection services)
    {
        services.AddSingleton<TintShelf>();
        services.AddSingleton<ITintWords>(s => s.GetRequiredService<TintShelf>());
        services.AddSingleton<IStartupStep>(s => s.GetRequiredService<TintShelf>());
        services.AddSingleton<TintRecord>();
        return services;
    }

    internal static RouteGroupBuilder MapTint(this RouteGroupBuilder api)
    {
        TintEndpoints.Map(api);
        return api;
    }
}
