using Microsoft.Extensions.DependencyInjection.Extensions;
using Microsoft.Extensions.Options;

namespace Incubation.Service.Hosting;

/// <summary>Puts the room together: clock, paths, lock, start order, supervision, health.</summary>
internal static class HostingRegistration
{
    internal static IServiceCollection AddHosting(this IServiceCollection services, RunMode mode)
    {
        services.AddSingleton(mode);
        services.AddSingleton<IValidateOptions<IncubationOptions>, SettingsValidator>();
        services.TryAddSingleton(TimeProvider.System);
        services.AddSingleton<ServiceClock>();
        services.AddSingleton<ClockTrust>();
        services.AddSingleton<ClockFile>();
        services.AddSingleton<IClockSync, SystemClockSync>();
        services.AddSingleton<DataPaths>();
        services.AddSingleton<InstanceLock>();
        services.AddSingleton<IStartupStep>(provider => provider.GetRequiredService<InstanceLock>());
        services.AddSingleton<WorkerBoard>();
        services.AddSingleton<ServiceFate>();
        services.AddSingleton<WorkerSupport>();
        services.AddSingleton<ClockMemory>();
        services.AddSingleton<IStartupStep>(provider => provider.GetRequiredService<ClockMemory>());
        services.AddHostedService(provider => provider.GetRequiredService<ClockMemory>());
        services.AddSingleton<StartupSequence>();
        services.AddHostedService(provider => provider.GetRequiredService<StartupSequence>());
        services.AddSingleton<LocalAddresses>();
        services.AddSingleton<Listening>();
        services.AddSingleton<IStartupStep>(provider => provider.GetRequiredService<Listening>());
        services.AddHostedService(provider => provider.GetRequiredService<Listening>());
        return services;
    }
}
