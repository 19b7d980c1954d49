using Incubation.Core.Readings;
using Incubation.Service.FirstScreen;
using Incubation.Service.Hosting;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace Incubation.Service.Clutches;

/// <summary>Clutches, eggs, tubs and where they are.</summary>
internal static class ClutchRegistration
{
    internal static IServiceCollection AddClutches(this IServiceCollection services)
    {
        services.AddSingleton<ClutchBook>();
        services.AddSingleton<Probes.IProbeTubs, TubsOfProbes>();
        services.AddSingleton<IStartupStep, ClutchLoading>();
        services.AddSingleton<IKeptDays, ClutchKeptDays>();
        services.AddSingleton<ClutchCalendar>();
        services.AddSingleton<ClutchWhereabouts>();
        services.AddSingleton<ClutchForecasts>();
        services.AddSingleton<ClutchLines>();
        services.AddSingleton<ClutchTasks>();
        services.AddSingleton<ClutchPages>();
        services.AddSingleton<ClutchForm>();
        services.AddSingleton<ClutchChanges>();
        services.AddSingleton<EggChanges>();
        services.AddSingleton<TubChanges>();
        services.AddSingleton<TubPhotos>();
        services.AddSingleton<OutcomeChanges>();
        services.AddSingleton<ClutchesOnFirstScreen>();
        services.AddSingleton<IIncubatorContents>(s => s.GetRequiredService<ClutchesOnFirstScreen>());
        services.AddSingleton<IToDoSource>(s => s.GetRequiredService<ClutchesOnFirstScreen>());
        // The rooms that know better register theirs; these answer where there are none.
        services.TryAddSingleton<NoForecast>();
        services.TryAddSingleton<IClutchForecast>(s => s.GetRequiredService<NoForecast>());
        services.TryAddSingleton<IClutchGenetics>(s => s.GetRequiredService<NoForecast>());
        services.TryAddSingleton<ITintWords, DefaultTintWords>();
        return services;
    }

    internal static RouteGroupBuilder MapClutches(this RouteGroupBuilder api)
    {
        ClutchEndpoints.Map(api);
        TubEndpoints.Map(api);
        PhotoEndpoints.Map(api);
        OutcomeEndpoints.Map(api);
        return api;
    }
}

/// <summary>Loads the clutches once the records are open.</summary>
internal sealed class ClutchLoading(ClutchBook book) : IStartupStep
{
    public StartupStage Stage => StartupStage.Facility;

    public Task RunAsync(CancellationToken cancellationToken) => book.LoadAsync(cancellationToken);
}
