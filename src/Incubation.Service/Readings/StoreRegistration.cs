using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Storage.Readings;
using Incubation.Storage.Readings.Spool;
using Microsoft.Extensions.Options;

namespace Incubation.Service.Readings;

/// <summary>The store of readings, and what stands by for a disk that is full or fails.</summary>
internal static class StoreRegistration
{
    internal static IServiceCollection AddStore(this IServiceCollection services)
    {
        services.AddSingleton(s => new DiskReserve(
            s.GetRequiredService<DataPaths>().Reserve, Megabytes(s.GetRequiredService<IOptions<IncubationOptions>>().Value.Disk.ReserveMegabytes)));
        services.AddSingleton(s => Store(s.GetRequiredService<IOptions<IncubationOptions>>().Value, s.GetRequiredService<DataPaths>(), s));
        services.AddSingleton<IReadingStore>(s => s.GetRequiredService<SqliteReadingStore>());
        services.AddSingleton<IStoreReach>(s => s.GetRequiredService<SqliteReadingStore>());
        services.AddSingleton<IStoreState>(s => s.GetRequiredService<SqliteReadingStore>());
        services.AddSingleton<IStartupStep, RoomAtStart>();
        services.AddHostedService<StoreWatch>();
        return services;
    }

    private static SqliteReadingStore Store(IncubationOptions options, DataPaths paths, IServiceProvider services) => new(new SqliteReadingStoreOptions
    {
        Path = paths.Readings,
        Time = services.GetRequiredService<TimeProvider>(),
        // Refused at the start without --allow-test-settings: only a test that must see a loss turns syncing off.
        Durability = options.Test.Synchronous == "off" ? Durability.Off : Durability.Full,
        LockPatience = TimeSpan.FromMilliseconds(options.Test.LockPatienceMilliseconds),
        Parts = services.GetRequiredService<Copies>().Outbox is { } outbox ? [outbox.Part] : [],
        Spool = new SpoolOptions
        {
            Path = paths.Spool,
            Bytes = Megabytes(options.Disk.SpoolMegabytes),
            Reserve = services.GetRequiredService<DiskReserve>(),
            LongestRetry = TimeSpan.FromMilliseconds(options.Test.StoreRetryMilliseconds),
        },
    });

    private static long Megabytes(int count) => count * 1024L * 1024;
}

/// <summary>Looks at the disk before anything is opened: a service that starts on a full one needs the reserve to start at all.</summary>
internal sealed class RoomAtStart(DiskReserve reserve) : IStartupStep
{
    public StartupStage Stage => StartupStage.House;

    public Task RunAsync(CancellationToken cancellationToken)
    {
        reserve.Look();
        return Task.CompletedTask;
    }
}
