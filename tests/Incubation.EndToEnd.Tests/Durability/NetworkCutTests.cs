using System.Globalization;
using System.Net;
using Incubation.EndToEnd.Tests.Instruments;
using Xunit;

namespace Incubation.EndToEnd.Tests.Durability;

/// <summary>Probes on a network of their own whose cable is pulled and put in again, under a service that other machines may reach.</summary>
public sealed class NetworkCutTests(ITestOutputHelper output)
{
    private const int Probes = 4, Cuts = 2;
    private const string User = "probes", Password = "a password for the probes";

    [Fact(Timeout = 300_000)]
    public async Task A_network_cut_loses_no_acknowledged_reading_and_counts_none_twice()
    {
        Needs.Root();
        Needs.Program("ip");
        CancellationToken stop = TestContext.Current.CancellationToken;
        await using CutNetwork network = await CutNetwork.MakeAsync(stop);
        ServiceSetup setup = new();
        setup.Settings["Incubation__Mqtt__User"] = User;
        setup.Settings["Incubation__Mqtt__Password"] = Password;
        PatientProbe[] probes = [];
        await using ServiceProcess service = await ServiceProcess.StartAsync(setup, stop);
        try
        {
            // The broker listens beyond this machine once somebody owns the facility.
            using ServiceClient owner = await ServiceClient.ClaimAsync(service, stop);
            probes = [.. Enumerable.Range(0, Probes).Select(n => new PatientProbe(
                $"incubation/hazel/far-{n}/temperature", stop, MqttWire.Connect($"far-{n}", User, Password), network.Peer)
            { Broker = new IPEndPoint(CutNetwork.Here, service.MqttPort) }.Start())];
            await MoreAsync(probes, "before the cut", stop);
            for (int cut = 0; cut < Cuts; cut++)
            {
                await network.CutAsync(stop);
                await Waiting.Pause(TimeSpan.FromSeconds(1), stop);
                await network.JoinAsync(stop);
                await MoreAsync(probes, "after a cut", stop);
            }

            Assert.Equal(0, await service.TerminateAsync(stop));
        }
        finally
        {
            foreach (PatientProbe probe in probes)
            {
                await probe.DisposeAsync();
            }
        }

        (string, long)[] acknowledged = [.. probes.SelectMany(probe => probe.Acknowledged)];
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{Cuts} cuts, {acknowledged.Length} acknowledged readings looked for"));
        Assert.Empty(await KeptReadings.MissingAsync(setup.Data, acknowledged));
        Assert.Equal(0, await KeptReadings.CountedTwiceAsync(setup.Data));
    }

    private static Task MoreAsync(PatientProbe[] probes, string when, CancellationToken stop)
        => Task.WhenAll(probes.Select(probe => probe.MoreAsync(5, when, stop)));
}
