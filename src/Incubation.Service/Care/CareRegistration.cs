namespace Incubation.Service.Care;

/// <summary>What people did to tubs and incubators.</summary>
internal static class CareRegistration
{
    internal static IServiceCollection AddCare(this IServiceCollection services) => services.AddSingleton<CareDesk>();

    internal static RouteGroupBuilder MapCare(this RouteGroupBuilder api)
    {
        CareEndpoints.Map(api);
        return api;
    }
}
