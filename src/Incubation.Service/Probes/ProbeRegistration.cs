using Incubation.Core.Readings;
using Incubation.Service.Hosting;

namespace Incubation.Service.Probes;

/// <summary>Probes: who was heard, where they are, and what their newest readings are worth.</summary>
internal static class ProbeRegistration
{
    internal static IServiceCollection AddProbes(this IServiceCollection services)
    {
        services.AddSingleton<Corrections>();
        services.AddSingleton<ICorrections>(s => s.GetRequiredService<Corrections>());
        services.AddSingleton<CalibrationBook>();
        services.AddSingleton<IStartupStep>(s => s.GetRequiredService<CalibrationBook>());
        services.AddSingleton<CalibrationDesk>();
        services.AddSingleton<ProbeRegister>();
        services.AddSingleton<ProbeViews>();
        services.AddSingleton<ProbeChanges>();
        services.AddHostedService<ProbeRecorder>();
        return services;
    }

    internal static RouteGroupBuilder MapProbes(this RouteGroupBuilder api)
    {
        ProbeEndpoints.Map(api);
        CalibrationEndpoints.Map(api);
        return api;
    }
}
