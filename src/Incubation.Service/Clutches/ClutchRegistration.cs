using Incubation.Service.Hosting;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace Incubation.Service.Clutches;

/// <summary>Clutches, eggs, tubs and where they are.</summary>
internal static class ClutchRegistration
{
    internal static IServiceCollection AddClutches(this IServiceCollection services)
    {
        services.AddSingleton<ClutchBook>();
        services.AddSingleton<IStartupStep, ClutchLoading>();
        // The rooms that know better register theirs; these answer where there are none.
        services.TryAddSingleton<NoForecast>();
        services.TryAddSingleton<IClutchForecast>(s => s.GetRequiredService<NoForecast>());
        services.TryAddSingleton<IClutchGenetics>(s => s.GetRequiredService<NoForecast>());
        services.TryAddSingleton<ITintWords, DefaultTintWords>();
        return services;
    }
}

/// <summary>Loads the clutches once the records are open.</summary>
internal sealed class ClutchLoading(ClutchBook book) : IStartupStep
{
    public StartupStage Stage => StartupStage.Facility;

    public Task RunAsync(CancellationToken cancellationToken) => book.LoadAsync(cancellationToken);
}
