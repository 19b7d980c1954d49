using Incubation.Service.Clutches;

namespace Incubation.Service.Genetics;

/// <summary>Traits, pairings, and what they let one expect.</summary>
internal static class GeneticsRegistration
{
    internal static IServiceCollection AddGenetics(this IServiceCollection services)
    {
        services.AddSingleton<TraitShelf>();
        services.AddSingleton<ClutchGenetics>();
        services.AddSingleton<IClutchGenetics>(s => s.GetRequiredService<ClutchGenetics>());
        return services;
    }

    internal static RouteGroupBuilder MapGenetics(this RouteGroupBuilder api)
    {
        TraitEndpoints.Map(api);
        return api;
    }
}
