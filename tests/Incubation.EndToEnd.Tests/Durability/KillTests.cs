using System.Globalization;
using Incubation.EndToEnd.Tests.Instruments;
using Xunit;

namespace Incubation.EndToEnd.Tests.Durability;

/// <summary>SIGKILL at random moments under load, on one data directory that lives through all of them.</summary>
public sealed class KillTests(ITestOutputHelper output)
{
    private static int Rounds => Seed.Long ? 100 : 4;

    [Fact(Timeout = 1_800_000)]
    public async Task Kills_with_sealing_and_spooling_under_way_lose_no_acknowledged_reading_and_count_none_twice()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        Random chance = Seed.For("kill");
        ServiceSetup setup = new() { Verb = "serve --allow-test-settings" };
        HeldOffAndOn.Settle(setup);
        List<(string, long)> acknowledged = [];
        for (int round = 0; round < Rounds; round++)
        {
            await using ServiceProcess service = await ServiceProcess.StartAsync(setup, stop);
            await using HeldOffAndOn held = new(setup.Data, chance, stop);
            await using Load load = new(round, stop);
            long before = SealedDays.Ever(setup.Data);
            await load.StartAsync(service.MqttPort, stop);
            await Waiting.UntilAsync(() => Task.FromResult(load.Acknowledged > 100), TimeSpan.FromSeconds(30), "the load to run", stop);
            await HeldOffAndOn.SpoolingAsync(service, stop);
            await SealedDays.MoreAsync(setup.Data, before, stop);
            await Waiting.Pause(TimeSpan.FromMilliseconds(chance.Next(20, 500)), stop);
            await service.KillAsync(stop);
            await load.BrokenAsync(stop);
            acknowledged.AddRange(load.Ids);
        }

        await KeptReadings.CatchUpAsync(setup.Data, stop);
        IReadOnlyList<(string, long)> missing = await KeptReadings.MissingAsync(setup.Data, acknowledged);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"seed {Seed.Value}: {Rounds} kills with sealing and spooling under way, {SealedDays.Ever(setup.Data)} days sealed, {acknowledged.Count} acknowledged readings looked for, {missing.Count} missing"));
        Assert.Empty(missing);
        Assert.Equal(0, await KeptReadings.CountedTwiceAsync(setup.Data));
    }

    [Fact(Timeout = 120_000)]
    public async Task A_stop_by_SIGTERM_ends_with_0_and_keeps_what_was_acknowledged()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        ServiceSetup setup = new();
        await using ServiceProcess service = await ServiceProcess.StartAsync(setup, stop);
        await using Load load = new(0, stop);
        await load.StartAsync(service.MqttPort, stop);
        await Waiting.UntilAsync(() => Task.FromResult(load.Acknowledged > 500), TimeSpan.FromSeconds(30), "the load to run", stop);
        Assert.Equal(0, await service.TerminateAsync(stop));
        await load.BrokenAsync(stop);
        Assert.Empty(await KeptReadings.MissingAsync(setup.Data, load.Ids));
    }
}
