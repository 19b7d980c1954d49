using System.Globalization;
using Incubation.EndToEnd.Tests.Instruments;
using Xunit;

namespace Incubation.EndToEnd.Tests.Durability;

/// <summary>The plug is pulled at random moments under load. Source of the method: common practice, no source.</summary>
public sealed class PowerCutTests(ITestOutputHelper output)
{
    private sealed record Cut(int Acknowledged, int Missing);

    [Fact(Timeout = 600_000)]
    public async Task A_power_cut_with_sealing_and_spooling_under_way_loses_no_acknowledged_reading()
    {
        IReadOnlyList<Cut> cuts = await CutAsync("full", Seed.Long ? 20 : 3, spooling: true, TestContext.Current.CancellationToken);
        Assert.All(cuts, cut => Assert.Equal(0, cut.Missing));
        Assert.True(cuts.Sum(cut => cut.Acknowledged) > 600, "There was hardly any load, so nothing was shown.");
    }

    /// <summary>If this loses nothing, the test above couldn't see a loss either.</summary>
    [Fact(Timeout = 600_000)]
    public async Task The_same_power_cuts_without_syncing_lose_acknowledged_readings()
    {
        IReadOnlyList<Cut> cuts = await CutAsync("off", Seed.Long ? 20 : 1, spooling: false, TestContext.Current.CancellationToken);
        Assert.True(cuts.Sum(cut => cut.Missing) > 0, "Nothing was lost with synchronous=OFF: the capture does not show what a power cut leaves.");
    }

    private async Task<IReadOnlyList<Cut>> CutAsync(string synchronous, int number, bool spooling, CancellationToken stop)
    {
        Needs.Root();
        Needs.Program("losetup");
        Needs.Program("mkfs.ext4");
        Needs.Hold(File.Exists("/dev/loop-control"), "this kernel has no loop devices");
        Random chance = Seed.For("power cut");
        output.WriteLine($"synchronous={synchronous}, seed {Seed.Value}; {DiskImage.Method}");

        await using DiskImage disk = await DiskImage.MakeAsync(stop);
        ServiceSetup setup = new() { Data = disk.Mount, Verb = "serve --allow-test-settings" };
        setup.Settings["Incubation__Test__Synchronous"] = synchronous;
        HeldOffAndOn.Settle(setup);
        List<Cut> cuts = [];
        await using (ServiceProcess service = await ServiceProcess.StartAsync(setup, stop))
        {
            await using HeldOffAndOn? held = spooling ? new HeldOffAndOn(setup.Data, chance, stop) : null;
            await using Load load = new(0, stop);
            await load.StartAsync(service.MqttPort, stop);
            await Waiting.UntilAsync(() => Task.FromResult(load.Acknowledged > 200), TimeSpan.FromSeconds(30), "the load to run", stop);
            if (spooling)
            {
                await HeldOffAndOn.SpoolingAsync(service, stop);
                await SealedDays.MoreAsync(setup.Data, 0, stop);
            }

            for (int cut = 0; cut < number; cut++)
            {
                await Waiting.Pause(TimeSpan.FromMilliseconds(chance.Next(100, 900)), stop);
                cuts.Add(await OneAsync(service, load, disk, cut, spooling, stop));
            }
        }

        long acknowledged = cuts.Sum(cut => (long)cut.Acknowledged);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"synchronous={synchronous}: {cuts.Count} power cuts, {acknowledged} acknowledged readings looked for, {cuts.Sum(cut => cut.Missing)} missing"));
        return cuts;
    }

    private static async Task<Cut> OneAsync(ServiceProcess service, Load load, DiskImage disk, int number, bool spooling, CancellationToken stop)
    {
        await service.FreezeAsync(stop);
        string copy;
        IReadOnlyList<(string, long)> acknowledged;
        try
        {
            copy = await disk.CaptureAsync(number, stop);
            // After the copy: the frozen service can acknowledge nothing more, so this is the strictest list.
            acknowledged = load.Ids;
        }
        finally
        {
            await service.ThawAsync(stop);
        }

        string recovered = await disk.RecoverAsync(copy, stop);
        // The program itself must come up on what the power cut left, records and all, and store what waits in its spool file.
        if (spooling || number == 0)
        {
            await KeptReadings.CatchUpAsync(recovered, stop);
        }

        int missing = (await KeptReadings.MissingAsync(recovered, acknowledged)).Count;
        if (spooling)
        {
            Assert.Equal(0, await KeptReadings.CountedTwiceAsync(recovered));
        }

        await disk.ReleaseAsync(recovered, stop);
        File.Delete(copy);
        return new Cut(acknowledged.Count, missing);
    }
}
