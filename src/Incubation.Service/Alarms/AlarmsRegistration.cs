using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Service.Readings;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;

namespace Incubation.Service.Alarms;

/// <summary>Alarms: judged in memory, remembered in the background. (The siren's topic will listen to <see cref="IAlarmDesk.Changed"/> too.)</summary>
internal static class AlarmsRegistration
{
    internal static IServiceCollection AddAlarms(this IServiceCollection services)
    {
        services.AddSingleton<AlarmSpeech>();
        services.AddSingleton<RecordsWriter>();
        services.AddSingleton<EndedAlarms>();
        services.AddSingleton<AlarmDesk>();
        services.AddSingleton<IAlarmDesk>(s => s.GetRequiredService<AlarmDesk>());
        services.AddSingleton<IReadingListener>(s => s.GetRequiredService<AlarmDesk>());
        services.AddSingleton<IStartupStep, LoadAlarms>();
        services.AddHostedService<JournalWorker>();
        services.AddHostedService<OwnTroubleWorker>();
        return services;
    }

    internal static RouteGroupBuilder MapAlarms(this RouteGroupBuilder api)
    {
        AlarmEndpoints.Map(api);
        return api;
    }
}

/// <summary>Puts the alarms back as they stood, before anything is heard.</summary>
internal sealed class LoadAlarms(AlarmDesk desk, IDbContextFactory<RecordsContext> records, IServiceProvider services) : IStartupStep
{
    public StartupStage Stage => StartupStage.Alarms;

    public Task RunAsync(CancellationToken cancellationToken)
        => desk.LoadAsync(records, services.GetService<ILatestReadings>()?.Series ?? (IEnumerable<SeriesKey>)[], cancellationToken);
}

/// <summary>Keeps <see cref="RecordsWriter"/> at work, and lets it finish when the service stops.</summary>
internal sealed class JournalWorker(WorkerSupport support, RecordsWriter writer) : SupervisedWorker(support, "journal writer")
{
    protected override Task RunAsync(CancellationToken stop) => writer.RunAsync(Progress, stop);

    public override async Task StopAsync(CancellationToken cancellationToken)
    {
        await base.StopAsync(cancellationToken);
        await writer.DrainAsync(cancellationToken);
    }
}
