using System.Globalization;
using System.Text;
using Incubation.EndToEnd.Tests.Durability;
using Incubation.EndToEnd.Tests.Instruments;
using Microsoft.Data.Sqlite;
using Xunit;

namespace Incubation.EndToEnd.Tests.Broker;

/// <summary>What probes were told is taken, through a mosquitto that is stopped in good order and a service that comes and goes.</summary>
public sealed class ExactlyOnceTests(ITestOutputHelper output)
{
    private const int Probes = 8;
    private const int BareProbes = 40;

    [Fact(Timeout = 300_000)]
    public async Task Readings_through_mosquitto_are_stored_exactly_once_while_service_and_broker_stop_and_start()
    {
        CancellationToken stop = TestContext.Current.CancellationToken;
        await using MosquittoServer broker = new();
        await broker.StartAsync(stop);
        ServiceSetup setup = ListeningRoom.Setup(broker);
        List<(string Probe, long At)> sent = [];

        await using (ServiceProcess service = await ServiceProcess.StartAsync(setup, stop))
        {
            await ListeningRoom.ConnectedAsync(service, stop);
            await PublishAsync(broker, sent, round: 0, stop);
            // In good order: what has arrived is stored and acknowledged, what has not stays with the broker.
            Assert.Equal(0, await service.TerminateAsync(stop));
        }

        // Nobody listens now; the broker keeps it for the session, through its own restart.
        await PublishAsync(broker, sent, round: 1, stop);
        await PublishBareAsync(broker, stop);
        await broker.StopAsync(stop);
        await broker.StartAsync(stop);

        await using (ServiceProcess service = await ServiceProcess.StartAsync(setup, stop))
        {
            await ListeningRoom.ConnectedAsync(service, stop);
            await PublishAsync(broker, sent, round: 2, stop);
            await broker.StopAsync(stop);
            await broker.StartAsync(stop);
            await ListeningRoom.ConnectedAsync(service, stop, times: 2);
            await PublishAsync(broker, sent, round: 3, stop);
            await Waiting.UntilAsync(() => Task.FromResult(Count(setup.Data) >= sent.Count + BareProbes), ListeningRoom.Limit, "the last reading to be stored", stop);
            Assert.Equal(0, await service.TerminateAsync(stop));
        }

        HashSet<(string Probe, long At)> kept = await KeptReadings.ReadAsync(setup.Data);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"{sent.Count} readings with a time and {BareProbes} bare numbers sent by acknowledged publishes, {Count(setup.Data)} stored"));
        Assert.Empty(sent.Except(kept));
        // A bare number has no time by which it could be told apart: of one from each probe there must be one of each probe.
        string[] bare = [.. kept.Except(sent).Select(reading => reading.Probe).Order(StringComparer.Ordinal)];
        Assert.Equal(Enumerable.Range(0, BareProbes).Select(Bare), bare);
        Assert.Equal(sent.Count + BareProbes, Count(setup.Data));
    }

    private static async Task PublishAsync(MosquittoServer broker, List<(string, long)> sent, int round, CancellationToken stop)
    {
        ReadingPayload payload = new("value", "at", TimeProvider.System.GetUtcNow() - TimeSpan.FromHours(8 - (2 * round)));
        List<RawPublisher> publishers = [];
        using CancellationTokenSource halt = CancellationTokenSource.CreateLinkedTokenSource(stop);
        List<Task> running = [];
        for (int probe = 0; probe < Probes; probe++)
        {
            RawPublisher publisher = new($"incubation/hazel/{Timed(probe)}/temperature", 20, payload.Write, keepIds: true);
            publishers.Add(publisher);
            await publisher.ConnectAsync(broker.ProbePort, Timed(probe), stop);
            running.Add(Task.Run(() => publisher.RunAsync(halt.Token, stop), stop));
        }

        await Waiting.UntilAsync(() => Task.FromResult(publishers.All(p => p.Acknowledged >= 100)), ListeningRoom.Limit, "a hundred acknowledgements for each probe", stop);
        await halt.CancelAsync();
        await Task.WhenAll(running);
        foreach ((RawPublisher publisher, int probe) in publishers.Select((publisher, probe) => (publisher, probe)))
        {
            sent.AddRange(publisher.AcknowledgedIds.Select(id => (Timed(probe), payload.Milliseconds(id))));
            publisher.Dispose();
        }
    }

    private static async Task PublishBareAsync(MosquittoServer broker, CancellationToken stop)
    {
        byte[] packet = new byte[256];
        for (int probe = 0; probe < BareProbes; probe++)
        {
            using MqttPeer peer = new();
            await peer.ConnectAsync(broker.ProbePort, Bare(probe), stop);
            int length = MqttWire.Publish(packet, Encoding.UTF8.GetBytes($"incubation/hazel/{Bare(probe)}/temperature"), "31.4"u8, packet: 1);
            await peer.SendAsync(packet.AsMemory(0, length), stop);
            bool acknowledged = false;
            while (!acknowledged)
            {
                Assert.True(await peer.ReceiveAsync((first, _) => acknowledged = first == MqttWire.PublishAcknowledged, stop));
            }
        }
    }

    private static long Count(string data)
    {
        using SqliteConnection connection = new(new SqliteConnectionStringBuilder
        {
            DataSource = Path.Combine(data, "readings.db"),
            Mode = SqliteOpenMode.ReadOnly,
            Pooling = false,
        }.ToString());
        connection.Open();
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "SELECT count(*) FROM reading";
        return (long)command.ExecuteScalar()!;
    }

    private static string Timed(int probe) => string.Create(CultureInfo.InvariantCulture, $"timed-{probe:00}");

    private static string Bare(int probe) => string.Create(CultureInfo.InvariantCulture, $"bare-{probe:00}");
}
