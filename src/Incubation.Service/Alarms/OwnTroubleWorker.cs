using Incubation.Core.Alarms;
using Incubation.Service.Hosting;
using Microsoft.Extensions.Options;
using NodaTime;

namespace Incubation.Service.Alarms;

/// <summary>Makes alarms of the troubles of the service itself that people are to be called for. None of them wakes anybody: they wait for the day.</summary>
internal sealed class OwnTroubleWorker(
    WorkerSupport support, AlarmDesk desk, IEnumerable<IServiceTroubles> rooms, ServiceClock clock, IOptions<IncubationOptions> options)
    : SupervisedWorker(support, "own troubles", TimeSpan.FromMinutes(5))
{
    private static readonly TimeSpan Every = TimeSpan.FromSeconds(30);

    private readonly Dictionary<IServiceTroubles, string[]> _said = [];
    private readonly DateTimeZone _zone = DateTimeZoneProviders.Tzdb.GetZoneOrNull(options.Value.Facility.Zone) ?? DateTimeZone.Utc;

    protected override async Task RunAsync(CancellationToken stop)
    {
        while (true)
        {
            Look();
            Progress();
            await Task.Delay(Every, Time, stop);
        }
    }

    /// <summary>One look at every room.</summary>
    internal void Look()
    {
        foreach (IServiceTroubles room in rooms)
        {
            try
            {
                _said[room] = [.. room.Troubles().Select(t => t.Kind).OfType<string>()];
            }
#pragma warning disable CA1031 // What a room said last holds until it can speak again: no alarm comes or goes because a question failed.
            catch (Exception error)
#pragma warning restore CA1031
            {
                Log.LogError(error, "{Room} could not say whether it works", room.GetType().Name);
            }
        }

        HashSet<string> kinds = [.. _said.Values.SelectMany(kind => kind)];
        desk.Judge(kinds, OwnTroubles.MayRaise(clock.Wall.InZone(_zone).Hour));
    }
}
