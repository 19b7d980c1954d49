using Incubation.Service.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using MQTTnet;
using MQTTnet.Exceptions;
using MQTTnet.Protocol;
using MQTTnet.Server;

namespace Incubation.Service.Readings;

/// <summary>
/// Proves that a probe would be heard: publishes to our own broker over the network as a probe does, and shows progress when the broker
/// acknowledges. A broker that only looks alive is told by <c>/healthz</c> within a minute or so.
/// </summary>
internal sealed class BrokerPulse(WorkerSupport support, IServer server, MqttServer broker, IHostApplicationLifetime lifetime)
    : SupervisedWorker(support, "broker", stallsAfter: TimeSpan.FromSeconds(90))
{
    /// <summary>One level, so that no template of readings can claim it.</summary>
    public const string Topic = "$incubation-pulse";

    private static readonly TimeSpan Every = TimeSpan.FromSeconds(20);
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(10);

    private readonly Task _brokerStarted = Started(broker);
    private bool _failing;

    protected override async Task RunAsync(CancellationToken stop)
    {
        await StartedAsync(stop);
        using IMqttClient client = new MqttClientFactory().CreateMqttClient();
        using PeriodicTimer timer = new(Every, Time);
        do
        {
            try
            {
                await BeatAsync(client, stop);
                Progress();
                _failing = false;
            }
            catch (Exception error) when (error is MqttCommunicationException or OperationCanceledException && !stop.IsCancellationRequested)
            {
                // No restart of the process: the screens still tell what stands, and silence calls people by itself.
                if (!_failing)
                {
                    Log.LogError(error, "The broker does not answer the service's own message");
                    _failing = true;
                }
            }
        }
        while (await timer.WaitForNextTickAsync(stop));
    }

    private async Task BeatAsync(IMqttClient client, CancellationToken stop)
    {
        using CancellationTokenSource late = new(Patience, Time);
        using CancellationTokenSource end = CancellationTokenSource.CreateLinkedTokenSource(late.Token, stop);
        if (!client.IsConnected)
        {
            await client.ConnectAsync(
                new MqttClientOptionsBuilder().WithTcpServer("127.0.0.1", Port()).WithClientId("incubation-pulse").Build(), end.Token);
        }

        await client.PublishAsync(
            new MqttApplicationMessageBuilder().WithTopic(Topic).WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce).Build(),
            end.Token);
    }

    // Http is the first endpoint and Mqtt the second, see ListenPlan.
    private int Port()
        => BindingAddress.Parse(server.Features.Get<IServerAddressesFeature>()!.Addresses.ElementAt(1)).Port;

    private async Task StartedAsync(CancellationToken stop)
    {
        TaskCompletionSource started = new(TaskCreationOptions.RunContinuationsAsynchronously);
        await using CancellationTokenRegistration onStart = lifetime.ApplicationStarted.Register(started.SetResult);
        await started.Task.WaitAsync(stop);
        await _brokerStarted.WaitAsync(stop);
    }

    // Kestrel listens a moment before the broker behind it takes connections.
    private static Task Started(MqttServer broker)
    {
        TaskCompletionSource started = new(TaskCreationOptions.RunContinuationsAsynchronously);
        broker.StartedAsync += _ =>
        {
            started.TrySetResult();
            return Task.CompletedTask;
        };
        return started.Task;
    }
}
