namespace Incubation.Service.Candling;

/// <summary>What was seen under the lamp.</summary>
internal static class CandlingRegistration
{
    internal static IServiceCollection AddCandling(this IServiceCollection services) => services.AddSingleton<CandlingDesk>();

    internal static RouteGroupBuilder MapCandling(this RouteGroupBuilder api)
    {
        CandlingEndpoints.Map(api);
        return api;
    }
}
