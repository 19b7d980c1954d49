namespace Incubation.Service.Facility;

/// <summary>The facility: incubators, bands, and the snapshot that readings are judged by.</summary>
internal static class FacilityRegistration
{
    internal static IServiceCollection AddFacility(this IServiceCollection services)
    {
        services.AddSingleton<FacilityRegistry>();
        services.AddSingleton<IFacility>(s => s.GetRequiredService<FacilityRegistry>());
        services.AddSingleton<FacilityChanges>();
        return services;
    }

    internal static RouteGroupBuilder MapFacility(this RouteGroupBuilder api)
    {
        FacilityEndpoints.Map(api);
        return api;
    }
}
