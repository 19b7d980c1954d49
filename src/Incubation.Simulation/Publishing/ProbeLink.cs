using System.Threading.Channels;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace Incubation.Simulation.Publishing;

/// <summary>A message that waits for the broker.</summary>
internal readonly record struct Outgoing(string Topic, byte[] Payload);

/// <summary>
/// One connection that publishes with QoS 1, one message at a time, and keeps each until the broker has acknowledged it. When the
/// connection breaks or a message is refused it waits, connects again and goes on with the same message.
/// </summary>
internal sealed class ProbeLink(FleetOptions options, string clientId, string statusTopic, ulong seed, TimeProvider time)
{
    private readonly BackOff _backOff = new(seed, TimeSpan.FromMilliseconds(250), TimeSpan.FromSeconds(15));
    private readonly Channel<Outgoing> _waiting = Channel.CreateBounded<Outgoing>(
        new BoundedChannelOptions(options.Waiting) { FullMode = BoundedChannelFullMode.DropOldest, SingleReader = true });
    private long _acknowledged;

    public long Acknowledged => Interlocked.Read(ref _acknowledged);

    public void Send(Outgoing message) => _waiting.Writer.TryWrite(message);

    public async Task RunAsync(CancellationToken stop)
    {
        using var client = new MqttClientFactory().CreateMqttClient();
        Outgoing? unacknowledged = null;
        while (!stop.IsCancellationRequested)
        {
            try
            {
                await ConnectAsync(client, stop);
                while (true)
                {
                    unacknowledged ??= await _waiting.Reader.ReadAsync(stop);
                    await PublishAsync(client, unacknowledged.Value, stop);
                    unacknowledged = null;
                    Interlocked.Increment(ref _acknowledged);
                    _backOff.Worked();
                }
            }
            catch (OperationCanceledException) when (stop.IsCancellationRequested)
            {
                break;
            }
#pragma warning disable CA1031 // Whatever the network does to a probe, it tries again.
            catch (Exception)
#pragma warning restore CA1031
            {
                await PauseAsync(stop);
            }
        }
        await LeaveAsync(client);
    }

    private async Task ConnectAsync(IMqttClient client, CancellationToken stop)
    {
        if (client.IsConnected)
        {
            return;
        }
        var builder = new MqttClientOptionsBuilder()
            .WithTcpServer(options.Host, options.Port())
            .WithClientId(clientId)
            .WithProtocolVersion(MqttProtocolVersion.V500)
            .WithCleanStart()
            .WithKeepAlivePeriod(TimeSpan.FromSeconds(15))
            .WithTimeout(TimeSpan.FromSeconds(10))
            .WithWillTopic(statusTopic)
            .WithWillPayload("offline")
            .WithWillQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce);
        if (options.Credentials is { } credentials)
        {
            builder = builder.WithCredentials(credentials.User, credentials.Password);
        }
        var result = await client.ConnectAsync(builder.Build(), stop);
        if (result.ResultCode != MqttClientConnectResultCode.Success)
        {
            throw new InvalidOperationException($"The broker refused the probe: {result.ResultCode}.");
        }
        await PublishAsync(client, new Outgoing(statusTopic, "online"u8.ToArray()), stop);
    }

    private static async Task PublishAsync(IMqttClient client, Outgoing message, CancellationToken stop)
    {
        var result = await client.PublishAsync(
            new MqttApplicationMessageBuilder()
                .WithTopic(message.Topic)
                .WithPayload(message.Payload)
                .WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce)
                .Build(),
            stop);
        // "Payload format invalid" and the like are final: sending the same again can't help.
        var refusedForNow = result.ReasonCode is MqttClientPublishReasonCode.ImplementationSpecificError
            or MqttClientPublishReasonCode.QuotaExceeded or MqttClientPublishReasonCode.UnspecifiedError;
        if (refusedForNow)
        {
            throw new InvalidOperationException($"The broker could not keep the message: {result.ReasonCode}.");
        }
    }

    private async Task PauseAsync(CancellationToken stop)
    {
        try
        {
            await Task.Delay(_backOff.Failed(), time, stop);
        }
        catch (OperationCanceledException)
        {
            // Stopping: the loop sees it.
        }
    }

    private static async Task LeaveAsync(IMqttClient client)
    {
        try
        {
            await client.DisconnectAsync(new MqttClientDisconnectOptions(), CancellationToken.None);
        }
#pragma warning disable CA1031 // It is leaving either way.
        catch (Exception)
#pragma warning restore CA1031
        {
        }
    }
}
