using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using MQTTnet.AspNetCore;
using MQTTnet.Server;

namespace Incubation.Service.Readings;

/// <summary>The way of a reading: broker, hook, listeners, store. Kestrel listens; its endpoint says <c>UseMqtt()</c>.</summary>
internal static class ReadingsRegistration
{
    internal static IServiceCollection AddReadings(this IServiceCollection services)
    {
        services.AddStore();
        services.AddSingleton<IReadingHistory, CorrectedHistory>();
        services.AddSingleton<LatestReadings>();
        services.AddSingleton<ILatestReadings>(s => s.GetRequiredService<LatestReadings>());
        services.AddSingleton<IReadingListener>(s => s.GetRequiredService<LatestReadings>());
        services.AddSingleton<ReadingListeners>();
        services.AddSingleton<RejectedMessages>();
        services.AddSingleton<TopicRoutes>();
        services.AddSingleton<BrokerBounds>();
        services.AddSingleton<ConnectionGate>();
        services.AddSingleton<ProbeStatus>();
        services.AddSingleton<ReadingIntake>();
        services.AddSingleton<Unanswered>();
        services.AddSingleton<PublishHook>();
        services.AddSingleton<Copies>();
        services.AddSingleton<IHostedService>(s => s.GetRequiredService<Copies>().Outbox is null ? new NoCopy() : ActivatorUtilities.CreateInstance<CopyWorker>(s));
        services.AddSingleton<LongHistory>();
        services.AddSingleton<HistoryTags>();
        services.AddSingleton<HistoryLookup>();
        services.AddSingleton<ReadingExport>();
        services.AddSingleton<ImportFiles>();
        services.AddSingleton<ImportRows>();
        services.AddSingleton<ImportDesk>();
        services.AddSingleton<ImportSurroundings>();
        services.AddSingleton<IKeepingPart, StoreKeepingPart>();
        services.AddSingleton<IKeepingPart, SpoolKeepingPart>();
        services.AddSingleton<IKeepingPart, RetentionKeepingPart>();
        services.AddSingleton<IKeepingPart, CopyKeepingPart>();
        services.AddSingleton<IKeepingPart, SourceKeepingPart>();
        services.AddSingleton<IKeepingPart, ClockKeepingPart>();
        services.AddSingleton<IStartupStep, ReadingsOpening>();
        services.AddSingleton<IStartupStep, ReadingsRecall>();
        services.AddHostedService<RejectedMessageRecorder>();
        services.AddHostedService<KeepingWorker>();
        services.AddHostedService<ImportWorker>();
        services.AddHostedService<MqttIntake>();
        services.AddHostedMqttServer(o => o.WithoutDefaultEndpoint().WithPersistentSessions(true));
        services.AddSingleton<MqttConnectionHandler>();
        services.AddSingleton<IMqttServerAdapter, AcknowledgingAdapter>();
        services.AddConnections();
        return services;
    }

    internal static RouteGroupBuilder MapReadings(this RouteGroupBuilder api)
    {
        ReadingsEndpoints.Map(api);
        HistoryEndpoints.Map(api);
        ExportEndpoints.Map(api);
        ImportEndpoints.Map(api);
        KeepingEndpoints.Map(api);
        return api;
    }
}
