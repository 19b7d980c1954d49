using System.Text;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Service.Broker;
using Incubation.Service.Readings;
using Incubation.Service.Tests.Readings;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging.Abstractions;
using MQTTnet;
using MQTTnet.Packets;
using MQTTnet.Protocol;
using Xunit;
using Eventually = Incubation.Service.Tests.Hosting.Eventually;

namespace Incubation.Service.Tests.Broker;

public sealed class DeliveriesTests
{
    private const string Topic = "incubation/hazel/hazel-air/temperature";

    private readonly List<ushort> _acknowledged = [];

    [Fact]
    public async Task Run_acknowledges_after_the_commit_and_in_the_order_of_arrival()
    {
        await using Bench bench = await Bench.StartAsync();
        for (ushort packet = 1; packet <= 50; packet++)
        {
            bench.Arrive(Message(packet, packet % 5 == 0 ? "nonsense" : "31.4"));
        }

        await bench.EndAsync();
        Assert.Equal(Enumerable.Range(1, 50).Select(n => (ushort)n), _acknowledged);
        Assert.Equal(40, bench.Store.Stored.Count);
        // What could not be read is listed, and was acknowledged: it would come back for ever.
        Assert.Equal(10, bench.Rejected.Sum(r => r.Count));
    }

    [Fact]
    public async Task Run_what_the_store_refuses_is_acknowledged_only_once_it_takes_it_with_the_time_it_came_at()
    {
        await using Bench bench = await Bench.StartAsync();
        bench.Store.Fails = true;
        NodaTime.Instant came = NodaTime.Instant.FromDateTimeOffset(bench.Host.Time.GetUtcNow());
        bench.Arrive(Message(1, "31.4"));
        bench.Arrive(Message(2, "31.5"));
        await Eventually.TrueAsync(() => bench.Deliveries.Trouble is not null, "the trouble is told");
        Assert.Empty(_acknowledged);

        bench.Host.Time.Advance(TimeSpan.FromMinutes(20));
        bench.Store.Fails = false;
        await Eventually.TrueAsync(() =>
        {
            bench.Host.Time.Advance(TimeSpan.FromSeconds(20));
            return _acknowledged.Count == 2;
        }, "both are acknowledged");
        Assert.Null(bench.Deliveries.Trouble);
        Assert.Equal([31.4, 31.5], bench.Store.Stored.Select(r => r.Value));
        Assert.All(bench.Store.Stored, r => Assert.Equal(came, r.At));
        await bench.EndAsync();
    }

    [Fact]
    public async Task Run_what_came_by_an_earlier_connection_is_not_acknowledged_and_not_stored_again_when_it_comes_again()
    {
        await using Bench bench = await Bench.StartAsync();
        bench.Arrive(Message(7, "31.4"), connection: 0);
        await Eventually.TrueAsync(() => bench.Store.Stored.Count == 1, "it is stored");
        bench.Arrive(Message(7, "31.4", again: true));
        await Eventually.TrueAsync(() => _acknowledged.Count == 1, "its second delivery is acknowledged");
        // The identifier is free now; what bears it next is another message, though it says the same.
        bench.Arrive(Message(7, "31.4", again: true));
        await bench.EndAsync();
        Assert.Equal(2, _acknowledged.Count);
        Assert.Equal(2, bench.Store.Stored.Count);
    }

    [Fact]
    public async Task Run_an_acknowledgement_that_fails_costs_nothing()
    {
        await using Bench bench = await Bench.StartAsync();
        bench.Arrive(new MqttApplicationMessageReceivedEventArgs(
            "x", Application("31.4"), new MqttPublishPacket { PacketIdentifier = 3 }, (_, _) => throw new InvalidOperationException("not connected")));
        bench.Arrive(Message(4, "31.5"));
        await bench.EndAsync();
        Assert.Equal([4], _acknowledged);
        Assert.Equal(2, bench.Store.Stored.Count);
    }

    [Fact]
    public void TryTake_messages_without_acknowledgement_are_dropped_at_the_bound_and_a_flood_with_it_ends_the_connection()
    {
        Handover handover = new();
        for (int i = 0; i < Limits.UnacknowledgedMessages + 5; i++)
        {
            Assert.True(handover.TryTake(1, Message(0, "31.4", quality: MqttQualityOfServiceLevel.AtMostOnce)));
        }

        Assert.Equal(5, handover.Dropped);
        for (int i = 0; i < Limits.UnacknowledgedMessages; i++)
        {
            Assert.True(handover.TryTake(1, Message((ushort)(i + 1), "31.4")));
        }

        Assert.False(handover.TryTake(1, Message(9_999, "31.4")));
    }

    private MqttApplicationMessageReceivedEventArgs Message(
        ushort packet, string payload, bool again = false, MqttQualityOfServiceLevel quality = MqttQualityOfServiceLevel.AtLeastOnce)
        => new("x", Application(payload, again, quality), new MqttPublishPacket { PacketIdentifier = packet }, (e, _) =>
        {
            lock (_acknowledged)
            {
                _acknowledged.Add(packet);
            }

            return Task.CompletedTask;
        });

    private static MqttApplicationMessage Application(
        string payload, bool again = false, MqttQualityOfServiceLevel quality = MqttQualityOfServiceLevel.AtLeastOnce)
    {
        MqttApplicationMessage message = new MqttApplicationMessageBuilder()
            .WithTopic(Topic).WithPayload(Encoding.UTF8.GetBytes(payload)).WithQualityOfServiceLevel(quality).Build();
        message.Dup = again;
        return message;
    }

    /// <summary>The real intake with a store that a test can break.</summary>
    private sealed class Bench : IAsyncDisposable
    {
        private readonly Handover _handover = new();
        private Task _running = Task.CompletedTask;
        private int _connection;

        private Bench(IntakeHost host, TroubledStore store)
        {
            (Host, Store) = (host, store);
            Deliveries = new Deliveries(
                _handover, host.Services.GetRequiredService<ReadingIntake>(), store, new Redeliveries(), host.Time, NullLogger.Instance);
        }

        public IntakeHost Host { get; }

        public TroubledStore Store { get; }

        public Deliveries Deliveries { get; }

        public IReadOnlyList<RejectedMessage> Rejected => Host.Services.GetRequiredService<RejectedMessages>().List();

        public static async Task<Bench> StartAsync()
        {
            TroubledStore store = new();
            Bench bench = new(await IntakeHost.StartAsync(services => services.AddSingleton<IReadingStore>(store)), store);
            bench._connection = await bench.Deliveries.NextConnectionAsync(TestContext.Current.CancellationToken);
            bench._running = bench.Deliveries.RunAsync(TestContext.Current.CancellationToken);
            return bench;
        }

        public void Arrive(MqttApplicationMessageReceivedEventArgs message, int? connection = null)
            => Assert.True(_handover.TryTake(connection ?? _connection, message));

        /// <summary>Nothing more comes, and all of it is settled.</summary>
        public async Task EndAsync()
        {
            _handover.Close();
            await _running.WaitAsync(TimeSpan.FromSeconds(30), TestContext.Current.CancellationToken);
        }

        public async ValueTask DisposeAsync()
        {
            _handover.Close();
            Deliveries.Dispose();
            await Host.DisposeAsync();
        }
    }
}
