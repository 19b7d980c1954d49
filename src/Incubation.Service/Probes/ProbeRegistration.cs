using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Service.Readings;

namespace Incubation.Service.Probes;

/// <summary>Probes: who was heard, where they are, and what their newest readings are worth.</summary>
internal static class ProbeRegistration
{
    internal static IServiceCollection AddProbes(this IServiceCollection services)
    {
        services.AddSingleton<Corrections>();
        services.AddSingleton<ICorrections>(s => s.GetRequiredService<Corrections>());
        services.AddSingleton<ProbeRegister>();
        services.AddSingleton<ProbeViews>();
        services.AddSingleton<ProbeChanges>();
        services.AddSingleton<ProbeLooks>();
        services.AddSingleton<IStartupStep>(s => s.GetRequiredService<ProbeLooks>());
        services.AddSingleton<TroubleWatch>();
        services.AddSingleton<IReadingListener>(s => s.GetRequiredService<TroubleWatch>());
        services.AddSingleton<TroubleWorker>();
        services.AddHostedService(s => s.GetRequiredService<TroubleWorker>());
        services.AddHostedService<ProbeRecorder>();
        return services;
    }

    internal static RouteGroupBuilder MapProbes(this RouteGroupBuilder api)
    {
        ProbeEndpoints.Map(api);
        return api;
    }
}
