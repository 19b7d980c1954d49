using Incubation.Core.Alarms;
using Incubation.Core.FirstScreen;
using Incubation.Service.Alarms;
using Incubation.Service.Hosting;
using Incubation.Service.Tests.Calling;
using Incubation.Service.Tests.Hosting;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Xunit;

namespace Incubation.Service.Tests.Alarms;

public sealed class OwnTroubleWorkerTests
{
    [Fact]
    public async Task A_trouble_of_the_service_wakes_nobody_and_calls_people_by_day()
    {
        await using var hook = await HookReceiver.StartAsync();
        var room = new Room();
        await using NightHouse house = await NightHouse.StartAsync(also: services => services.AddSingleton<IServiceTroubles>(room));
        await house.OrderAsync(NightHouse.Hook("Ada", hook.Address));
        OwnTroubleWorker worker = house.Service.Services.GetServices<IHostedService>().OfType<OwnTroubleWorker>().Single();

        room.Kinds = ["backup"];
        worker.Look();
        Assert.Empty(house.Get<IAlarmDesk>().Standing());

        house.Time.Advance(TimeSpan.FromHours(5));
        worker.Look();
        StandingAlarm alarm = Assert.Single(house.Get<IAlarmDesk>().Standing(), a => a.Key.Condition == AlarmCondition.OwnTrouble);
        Assert.Equal(OwnTroubles.KeyOf("backup"), alarm.Key);
        await Eventually.TrueAsync(() => hook.Posts.Any(p => p.Json.ToString().Contains("no good backup", StringComparison.Ordinal)), "the call");

        room.Broken = true;
        worker.Look();
        Assert.Equal(AlarmState.Unacknowledged, Standing());
        (room.Broken, room.Kinds) = (false, []);
        worker.Look();
        Assert.Equal(AlarmState.ReturnedUnacknowledged, Standing());

        AlarmState Standing() => house.Get<IAlarmDesk>().Standing().Single(a => a.Key.Condition == AlarmCondition.OwnTrouble).State;
    }

    private sealed class Room : IServiceTroubles
    {
        public string[] Kinds { get; set; } = [];

        public bool Broken { get; set; }

        public IEnumerable<ServiceTrouble> Troubles() => Broken
            ? throw new InvalidOperationException("It can't say.")
            : Kinds.Select(k => new ServiceTrouble(HeadlineTone.Warning, "The last good backup is old.", "Make room.", k));
    }
}
