using Incubation.Storage.Records;

namespace Incubation.Service.Hosting;

/// <summary>The records: a context factory for every room, and their opening as a step of the start.</summary>
internal static class RecordsRegistration
{
    internal static IServiceCollection AddRecords(this IServiceCollection services)
    {
        services.AddDbContextFactory<RecordsContext>((provider, options) =>
            RecordsOpening.Configure(options, provider.GetRequiredService<DataPaths>().Records));
        services.AddSingleton<RecordsOpening>();
        services.AddSingleton<IStartupStep, OpenRecords>();
        return services;
    }
}

/// <summary>Opens and migrates the records once the data directory is ours.</summary>
internal sealed class OpenRecords(RecordsOpening opening, ILogger<OpenRecords> log) : IStartupStep
{
    public StartupStage Stage => StartupStage.Records;

    public async Task RunAsync(CancellationToken cancellationToken)
    {
        try
        {
            IReadOnlyList<string> applied = await opening.MigrateAsync(cancellationToken);
            if (applied.Count > 0)
            {
                log.LogInformation("Records brought up to schema {Schema}", applied[^1]);
            }
        }
        catch (RecordsUnavailableException error)
        {
            throw new StartException(error.Message, error);
        }
    }
}
