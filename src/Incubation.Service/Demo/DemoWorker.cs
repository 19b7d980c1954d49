using Incubation.Core.Alarms;
using Incubation.Core.Care;
using Incubation.Service.Alarms;
using Incubation.Service.Hosting;
using Incubation.Simulation.Cabinets;
using Incubation.Simulation.Publishing;
using Incubation.Simulation.Scenarios;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.Options;
using NodaTime;

namespace Incubation.Service.Demo;

/// <summary>Lets the simulated facility live: probes publish over real MQTT, and keepers do what the director says.</summary>
internal sealed class DemoWorker(
    WorkerSupport support, DemoStory story, ServiceClock clock, IServer server,
    IOptions<DemoSettings> settings, IOptions<IncubationOptions> options, IHostApplicationLifetime lifetime, RecordsWriter? writer = null,
    IAlarmDesk? desk = null)
    : SupervisedWorker(support, "the demo's probes", TimeSpan.FromMinutes(2))
{
    protected override async Task RunAsync(CancellationToken stop)
    {
        var world = story.Week.World;
        // The seconds between the seeding and now went by in the cabinets too.
        world.Advance(clock.Wall);
        var fleet = new MqttProbeFleet(
            world,
            new FleetOptions
            {
                Port = BrokerPort,
                Credentials = options.Value.Mqtt is { User: { Length: > 0 } user, Password: { } password } ? (user, password) : null,
                Topic = options.Value.Mqtt.Topic,
                Speed = settings.Value.Speed,
            },
            Time,
            (ulong)settings.Value.Seed);
        var director = new DemoDirector(world.Now, settings.Value);
        fleet.Ticked += now => Steer(fleet, director, now);
        // The probes leave as soon as the service begins to stop: Kestrel waits for open connections, and theirs would never end.
        using var leaving = CancellationTokenSource.CreateLinkedTokenSource(stop, lifetime.ApplicationStopping);
        await fleet.RunAsync(leaving.Token);
        await Task.Delay(Timeout.InfiniteTimeSpan, Time, stop);
    }

    private void Steer(MqttProbeFleet fleet, DemoDirector director, Instant now)
    {
        Progress();
        foreach (var happening in director.Due(now, SomebodyIsOnIt()))
        {
            Log.LogInformation("Demo: {What}", DemoWords.Say(happening));
            Remember(happening);
            fleet.Do(happening);
        }
    }

    /// <summary>Whoever mends a heater writes it down.</summary>
    private void Remember(Happening happening)
    {
        if (happening is HeaterBecame { Fault: HeaterFault.None } mended)
        {
            var line = new DemoChore(clock.Wall, CareTarget.Incubator, mended.Cabinet, CareKind.Other, null,
                "The heater's relay had stuck on. Changed it, and held the lid open until it was cool.", DemoFacility.Keeper).Line(Guid.CreateVersion7(Time.GetUtcNow()));
            _ = writer?.Add(async (records, stop) =>
            {
                if (await records.Care.FindAsync([line.Id], stop) is null)
                {
                    records.Care.Add(line);
                }
            });
        }
    }

    private bool SomebodyIsOnIt()
        => desk?.Standing().Any(alarm => alarm.Key.Incubator == DemoFacility.Juniper && alarm.State == AlarmState.Acknowledged) == true;

    /// <summary>The broker's port; when the settings ask for a free one, it is the second address that the server listens on.</summary>
    private int BrokerPort()
    {
        if (options.Value.Mqtt.Port is > 0 and var set)
        {
            return set;
        }
        var addresses = server.Features.Get<IServerAddressesFeature>()?.Addresses;
        return addresses?.Count > 1
            ? new Uri(addresses.ElementAt(1)).Port
            : throw new InvalidOperationException("The broker doesn't listen yet.");
    }
}
