using System.Globalization;
using System.Net;
using Incubation.EndToEnd.Tests.Instruments;
using Incubation.EndToEnd.Tests.Night;
using Xunit;

namespace Incubation.EndToEnd.Tests.Durability;

/// <summary>
/// A disk that is full for a while and then read-only, under the whole program: what was acknowledged is there afterwards, and people are
/// called all the while. Half an hour with INCUBATION_LONG=1, else seconds.
/// </summary>
public sealed class DiskTroubleTests(ITestOutputHelper output)
{
    private const string HungTopic = "incubation/hazel/hazel-hung/temperature";
    private const int SilentAfter = 12;

    private static readonly TimeSpan Full = Seed.Long ? TimeSpan.FromMinutes(30) : TimeSpan.FromSeconds(4);
    private static readonly TimeSpan Grace = TimeSpan.FromSeconds(60);

    [Fact(Timeout = 3_000_000)]
    public async Task A_full_disk_and_then_a_read_only_one_lose_nothing_acknowledged_and_keep_nobody_from_being_called()
    {
        Needs.Root();
        Needs.Program("losetup");
        Needs.Program("mkfs.ext4");
        Needs.Hold(File.Exists("/dev/loop-control"), "this kernel has no loop devices");
        CancellationToken stop = TestContext.Current.CancellationToken;
        await using DiskImage disk = await DiskImage.MakeAsync(stop, megabytes: 64);
        await using MailReceiver mail = new();
        await using WebhookReceiver webhooks = new();
        ServiceSetup setup = new() { Data = disk.Mount, Verb = "serve --allow-test-settings" };
        mail.Settle(setup);
        setup.Settings["Incubation__Test__StoreRetryMilliseconds"] = "500";
        setup.Settings["Incubation__Disk__SpoolMegabytes"] = "4";
        IReadOnlyList<(string, long)> acknowledged;
        await using (EggRoom room = await EggRoom.OpenAsync(setup, stop))
        {
            await room.CallAsync(webhooks, 30, stop);
            await using PatientProbe hung = Probe(HungTopic, room.Service.MqttPort, hangs: true, stop);
            await hung.MoreAsync(1, "once", stop);
            await room.PlaceAsync("hazel-hung", stop);
            await room.SetBandAsync(EggRoom.WarningOnDelay, EggRoom.DangerOnDelay, SilentAfter, stop);
            await using PatientProbe probe = Probe(EggRoom.Topic, room.Service.MqttPort, hangs: false, stop);

            await FullAsync(room, disk, probe, stop);
            await HoldHungCalledAsync(webhooks, hung, stop);
            await ReadOnlyAsync(room, disk, probe, webhooks, stop);
            Assert.Equal(StoreWords.Refusing, await StoreWords.OfAsync(room, stop));
            acknowledged = probe.Acknowledged;
            await room.Service.KillAsync(stop);
        }

        await disk.MendAsync(stop);
        disk.Empty();
        await KeptReadings.CatchUpAsync(disk.Mount, stop);
        IReadOnlyList<(string, long)> missing = await KeptReadings.MissingAsync(disk.Mount, acknowledged);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{acknowledged.Count} acknowledged readings looked for, {missing.Count} missing"));
        Assert.Empty(missing);
        Assert.Equal(0, await KeptReadings.CountedTwiceAsync(disk.Mount));
    }

    private static PatientProbe Probe(string topic, int port, bool hangs, CancellationToken stop)
        => new PatientProbe(topic, stop) { Hangs = hangs, Broker = new IPEndPoint(IPAddress.Loopback, port) }.Start();

    /// <summary>Full for a while: the spool takes over; room again: all is caught up; full once more.</summary>
    private async Task FullAsync(EggRoom room, DiskImage disk, PatientProbe probe, CancellationToken stop)
    {
        await probe.MoreAsync(10, "with room on the disk", stop);
        disk.Fill();
        await StoreWords.UntilAsync(room, StoreWords.Spooling, disk.Fill, stop);
        int before = probe.Acknowledged.Count;
        long start = TimeProvider.System.GetTimestamp();
        while (TimeProvider.System.GetElapsedTime(start) < Full)
        {
            disk.Fill();
            await probe.MoreAsync(5, "with a full disk", stop);
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{probe.Acknowledged.Count - before} acknowledged while the disk was full"));
        disk.Empty();
        await StoreWords.UntilAsync(room, StoreWords.Well, () => { }, stop);
        disk.Fill();
        await StoreWords.UntilAsync(room, StoreWords.Spooling, disk.Fill, stop);
        await probe.MoreAsync(10, "with a disk full again", stop);
    }

    private async Task HoldHungCalledAsync(WebhookReceiver webhooks, PatientProbe hung, CancellationToken stop)
    {
        await Waiting.ForAsync(() => webhooks.All.FirstOrDefault(call => call.Type == "alarm.raised" && (string?)call.Body["data"]?["condition"] == "no reading"
            && (string?)call.Body["data"]?["probe"] == "hazel-hung"), TimeSpan.FromSeconds(SilentAfter) + Grace, "the silence of a probe that sends one old reading", stop);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"the probe that sends one old reading was missed; it was acknowledged {hung.Acknowledged.Count} times"));
    }

    /// <summary>The probe drifts with its one message in flight, which nothing can take any more.</summary>
    private async Task ReadOnlyAsync(EggRoom room, DiskImage disk, PatientProbe probe, WebhookReceiver webhooks, CancellationToken stop)
    {
        long left;
        int before;
        using (await probe.PauseAsync(stop))
        {
            await disk.BreakAsync(stop);
            before = probe.Acknowledged.Count;
            probe.Celsius = 36;
            left = TimeProvider.System.GetTimestamp();
        }

        TimeSpan limit = TimeSpan.FromSeconds(EggRoom.DangerOnDelay) + Grace;
        WebhookReceiver.Received call = await Waiting.ForAsync(
            () => webhooks.All.FirstOrDefault(c => c.Severity == "danger" && (string?)c.Body["data"]?["condition"] == "high"), limit, "the call about the drift", stop);
        TimeSpan after = TimeProvider.System.GetElapsedTime(left, call.Timestamp);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"read-only: called {after.TotalSeconds:0.0} s after the drift began"));
        Assert.InRange(after, TimeSpan.Zero, limit);
        Assert.Equal(before, probe.Acknowledged.Count);
        await StoreWords.UntilAsync(room, StoreWords.Refusing, () => { }, stop);
    }
}
