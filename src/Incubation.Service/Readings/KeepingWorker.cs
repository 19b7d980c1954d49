using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Storage.Readings;
using Incubation.Storage.Readings.Keeping;
using Microsoft.Extensions.Options;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>
/// Seals days that are over, deletes what is no longer wanted, and looks the file over at night; none of it while the clock is not trusted. A disk in trouble makes it wait, not fail:
/// all of it can be done later.
/// </summary>
internal sealed class KeepingWorker(
    WorkerSupport support, IReadingStore store, IEnumerable<IKeptDays> kept, ServiceClock clock, IOptions<IncubationOptions> options)
    : SupervisedWorker(support, "readings keeping")
{
    private static readonly TimeSpan AtLeastEvery = TimeSpan.FromMinutes(10);
    private static readonly Duration BetweenChecks = Duration.FromHours(20);
    private static readonly Duration WithoutNight = Duration.FromHours(48);

    // A probe that lost its network for a night delivers before its day is sealed; one that comes later opens it again.
    private readonly Duration _grace = Duration.FromMilliseconds(options.Value.Test.SealAfterMilliseconds);

    protected override async Task RunAsync(CancellationToken stop)
    {
        TimeSpan grace = _grace.ToTimeSpan();
        using PeriodicTimer timer = new(grace < AtLeastEvery ? grace : AtLeastEvery, Time);
        while (await timer.WaitForNextTickAsync(stop))
        {
            // A service without a store of its own has nothing to keep.
            if (store is SqliteReadingStore sqlite && clock.Trusted)
            {
                await TendAsync(sqlite, stop);
            }

            Progress();
        }
    }

    private async Task TendAsync(SqliteReadingStore sqlite, CancellationToken stop)
    {
        try
        {
            int days = await sqlite.SealAsync(clock.Wall - _grace, stop);
            // Sealing may take long, and the clock may have jumped meanwhile: nothing is given up by a time that may be wrong.
            int dropped = clock.Trusted
                ? await sqlite.DropAsync(clock.Wall, options.Value.Readings.KeepDays, new KeptByAny([.. kept]), stop)
                : 0;
            if (days + dropped > 0)
            {
                Log.LogInformation("{Sealed} days of readings were sealed and {Dropped} deleted", days, dropped);
            }

            if (IsCheckDue(sqlite.Facts().LastCheck))
            {
                StoreCheck check = await sqlite.CheckAsync(() => clock.Wall, stop);
                Log.Log(check.Ok ? LogLevel.Information : LogLevel.Error, "The readings file was looked over: {Words}", check.Words);
            }
        }
        catch (StoreUnavailableException trouble)
        {
            Log.LogWarning(trouble, "Readings can't be tended now: {Words}", trouble.Message);
        }
    }

    private bool IsCheckDue(StoreCheck? last)
    {
        DateTimeZone zone = DateTimeZoneProviders.Tzdb.GetZoneOrNull(options.Value.Facility.Zone) ?? DateTimeZone.Utc;
        bool night = clock.Wall.InZone(zone).Hour is >= 1 and < 5;
        Duration since = last is null ? Duration.MaxValue : clock.Wall - last.At;
        return night ? since > BetweenChecks : since > WithoutNight && last is not null;
    }
}

/// <summary>A day is kept as soon as one room wants it.</summary>
internal sealed class KeptByAny(IReadOnlyList<IKeptDays> rooms) : IKeptDays
{
    public bool MustKeep(SeriesKey series, Instant from, Instant to) => rooms.Any(room => room.MustKeep(series, from, to));
}
