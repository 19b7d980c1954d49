using System.Globalization;
using System.Net;
using Incubation.EndToEnd.Tests.Instruments;
using Xunit;

namespace Incubation.EndToEnd.Tests.Durability;

/// <summary>The service is stopped and started as an update does it, under probes that go on all the while.</summary>
public sealed class RestartTests(ITestOutputHelper output)
{
    private const int Probes = 5, Restarts = 3;

    [Fact(Timeout = 300_000)]
    public async Task Graceful_restarts_lose_no_acknowledged_reading_and_count_none_twice()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        ServiceSetup setup = new();
        PatientProbe[] probes = [.. Enumerable.Range(0, Probes).Select(n => new PatientProbe($"incubation/hazel/steady-{n}/temperature", stop).Start())];
        try
        {
            for (int restart = 0; restart < Restarts; restart++)
            {
                await using ServiceProcess service = await ServiceProcess.StartAsync(setup, stop);
                Array.ForEach(probes, probe => probe.Broker = new IPEndPoint(IPAddress.Loopback, service.MqttPort));
                await Task.WhenAll(probes.Select(probe => probe.MoreAsync(5, "after a restart", stop)));
                Assert.Equal(0, await service.TerminateAsync(stop));
            }
        }
        finally
        {
            foreach (PatientProbe probe in probes)
            {
                await probe.DisposeAsync();
            }
        }

        (string, long)[] acknowledged = [.. probes.SelectMany(probe => probe.Acknowledged)];
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{Restarts} restarts, {acknowledged.Length} acknowledged readings looked for"));
        Assert.Empty(await KeptReadings.MissingAsync(setup.Data, acknowledged));
        Assert.Equal(0, await KeptReadings.CountedTwiceAsync(setup.Data));
    }
}
