using Incubation.Service.Hosting;

namespace Incubation.Service.Facility;

/// <summary>The facility: incubators, bands, and the snapshot that readings are judged by.</summary>
internal static class FacilityRegistration
{
    internal static IServiceCollection AddFacility(this IServiceCollection services)
    {
        services.AddSingleton<FacilityRegistry>();
        services.AddSingleton<IFacility>(s => s.GetRequiredService<FacilityRegistry>());
        services.AddSingleton<IStartupStep, FacilityLoading>();
        services.AddSingleton<FacilityChanges>();
        services.AddSingleton<RunIns>();
        return services;
    }

    internal static RouteGroupBuilder MapFacility(this RouteGroupBuilder api)
    {
        FacilityEndpoints.Map(api);
        RunInEndpoints.Map(api);
        return api;
    }
}

/// <summary>Loads the facility once the records are open.</summary>
internal sealed class FacilityLoading(FacilityRegistry registry) : IStartupStep
{
    public StartupStage Stage => StartupStage.Facility;

    public Task RunAsync(CancellationToken cancellationToken) => registry.LoadAsync(cancellationToken);
}
