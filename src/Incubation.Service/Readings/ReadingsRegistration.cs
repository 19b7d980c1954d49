using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Storage.Readings;
using Microsoft.Extensions.Options;
using MQTTnet.AspNetCore;

namespace Incubation.Service.Readings;

/// <summary>The way of a reading: broker, hook, listeners, store. Kestrel listens; its endpoint says <c>UseMqtt()</c>.</summary>
internal static class ReadingsRegistration
{
    internal static IServiceCollection AddReadings(this IServiceCollection services)
    {
        services.AddSingleton<IReadingStore>(s => new SqliteReadingStore(new SqliteReadingStoreOptions
        {
            Path = s.GetRequiredService<DataPaths>().Readings,
            // Refused at the start without --allow-test-settings: only a test that must see a loss turns syncing off.
            Durability = s.GetRequiredService<IOptions<IncubationOptions>>().Value.Test.Synchronous == "off" ? Durability.Off : Durability.Full,
        }));
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
        services.AddSingleton<PublishHook>();
        services.AddSingleton<HistoryLookup>();
        services.AddSingleton<IKeepingPart, StoreKeepingPart>();
        services.AddSingleton<IKeepingPart, RetentionKeepingPart>();
        services.AddSingleton<IStartupStep, ReadingsOpening>();
        services.AddSingleton<IStartupStep, ReadingsRecall>();
        services.AddHostedService<RejectedMessageRecorder>();
        services.AddHostedService<KeepingWorker>();
        services.AddHostedService<BrokerPulse>();
        services.AddHostedService<MqttIntake>();
        services.AddHostedMqttServer(o => o.WithoutDefaultEndpoint().WithPersistentSessions(true));
        services.AddMqttConnectionHandler();
        services.AddConnections();
        return services;
    }

    internal static RouteGroupBuilder MapReadings(this RouteGroupBuilder api)
    {
        ReadingsEndpoints.Map(api);
        KeepingEndpoints.Map(api);
        return api;
    }
}
