using System.Collections.Concurrent;
using Incubation.Core.Readings;
using Incubation.Service.Readings;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Formatter;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Readings;

/// <summary>One connection that speaks for many probes, before a store whose commits come when the test says so.</summary>
public sealed class GatewayTests
{
    private const int Probes = 200;

    [Theory]
    [InlineData(MqttProtocolVersion.V311)]
    [InlineData(MqttProtocolVersion.V500)]
    public async Task Every_reading_of_a_gateway_is_judged_before_any_is_acknowledged(MqttProtocolVersion version)
    {
        SlowStore store = new();
        await using IntakeHost host = await IntakeHost.StartAsync(s => s.Replace(ServiceDescriptor.Singleton<IReadingStore>(store)));
        await using ProbeClient gateway = await ProbeClient.ConnectAsync(host, version);

        Task<MqttClientPublishResult>[] sent = [.. Enumerable.Range(0, Probes).Select(probe => gateway.PublishAsync(Topic(probe), "31.4"))];

        ILatestReadings latest = host.Services.GetRequiredService<ILatestReadings>();
        await Eventually.True(() => Enumerable.Range(0, Probes).All(probe => latest.Latest(Series(probe)) is not null), "every reading is judged");
        Assert.DoesNotContain(sent, one => one.IsCompleted);
        Assert.Equal(Probes, host.Services.GetRequiredService<Unanswered>().Count);
        store.Commit();
        Assert.All(await Task.WhenAll(sent), result => Assert.True(result.IsSuccess));
        Assert.Equal(0, host.Services.GetRequiredService<Unanswered>().Count);
    }

    [Fact]
    public async Task An_mqtt5_gateway_with_several_in_flight_is_refused_each_of_them_and_stays_connected()
    {
        SlowStore store = new();
        await using IntakeHost host = await IntakeHost.StartAsync(s => s.Replace(ServiceDescriptor.Singleton<IReadingStore>(store)));
        await using ProbeClient gateway = await ProbeClient.ConnectAsync(host);
        Task<MqttClientPublishResult>[] sent = [.. Enumerable.Range(0, 5).Select(probe => gateway.PublishAsync(Topic(probe), "31.4"))];
        await Eventually.True(() => store.Waiting == 5, "five readings wait");

        store.Refuse();

        Assert.All(await Task.WhenAll(sent), result => Assert.Equal(
            (MqttClientPublishReasonCode.ImplementationSpecificError, "The disk is full. Make room."), (result.ReasonCode, result.ReasonString)));
        Assert.True(gateway.IsConnected);
    }

    [Fact]
    public async Task An_mqtt3_gateway_with_several_in_flight_is_disconnected_with_none_of_them_acknowledged()
    {
        SlowStore store = new();
        await using IntakeHost host = await IntakeHost.StartAsync(s => s.Replace(ServiceDescriptor.Singleton<IReadingStore>(store)));
        await using ProbeClient gateway = await ProbeClient.ConnectAsync(host, MqttProtocolVersion.V311);
        Task<MqttClientPublishResult>[] sent = [.. Enumerable.Range(0, 5).Select(probe => gateway.PublishAsync(Topic(probe), "31.4"))];
        await Eventually.True(() => store.Waiting == 5, "five readings wait");

        store.Refuse();

        foreach (Task<MqttClientPublishResult> one in sent)
        {
            await Assert.ThrowsAnyAsync<MqttCommunicationException>(() => one);
        }

        await Eventually.True(() => !gateway.IsConnected, "the connection is closed");
        await Eventually.True(() => host.Services.GetRequiredService<Unanswered>().Count == 0, "nothing is owed any more");
    }

    [Fact]
    public async Task A_gateway_that_goes_with_answers_outstanding_leaves_nothing_owed()
    {
        SlowStore store = new();
        await using IntakeHost host = await IntakeHost.StartAsync(s => s.Replace(ServiceDescriptor.Singleton<IReadingStore>(store)));
        ProbeClient gateway = await ProbeClient.ConnectAsync(host);
        Task<MqttClientPublishResult>[] sent = [.. Enumerable.Range(0, 5).Select(probe => gateway.PublishAsync(Topic(probe), "31.4"))];
        await Eventually.True(() => store.Waiting == 5, "five readings wait");

        await gateway.DisposeAsync();
        foreach (Task<MqttClientPublishResult> one in sent)
        {
            await Assert.ThrowsAnyAsync<Exception>(() => one);
        }

        store.Commit();
        await Eventually.True(() => host.Services.GetRequiredService<Unanswered>().Count == 0, "nothing is owed any more");
    }

    private static string Topic(int probe) => $"incubation/hazel/many-{probe}/temperature";

    private static SeriesKey Series(int probe) => new($"many-{probe}", Quantity.Temperature);

    /// <summary>A store that commits or refuses when it is told to.</summary>
    private sealed class SlowStore : IReadingStore
    {
        private readonly ConcurrentQueue<TaskCompletionSource> _waiting = new();

        public int Waiting => _waiting.Count;

        public void Commit() => Settle(one => one.SetResult());

        public void Refuse() => Settle(one => one.SetException(new StoreUnavailableException("The disk is full. Make room.")));

        public Task StoreAsync(ReadOnlyMemory<Reading> readings, CancellationToken cancellationToken)
        {
            TaskCompletionSource one = new(TaskCreationOptions.RunContinuationsAsynchronously);
            _waiting.Enqueue(one);
            return one.Task;
        }

        public IReadOnlyList<Reading> Read(SeriesKey series, Instant from, Instant to) => [];

        public ReadingBuckets Buckets(SeriesKey series, Instant from, Instant to, int buckets, Correction correction) => new(1, [], [], [], [], []);

        public IReadOnlyList<Reading> Latest() => [];

        private void Settle(Action<TaskCompletionSource> settle)
        {
            while (_waiting.TryDequeue(out TaskCompletionSource? one))
            {
                settle(one);
            }
        }
    }
}
