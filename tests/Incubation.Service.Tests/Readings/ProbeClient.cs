using System.Text;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;
using Xunit;

namespace Incubation.Service.Tests.Readings;

/// <summary>A real MQTT client that stands for a probe's board.</summary>
internal sealed class ProbeClient : IAsyncDisposable
{
    private readonly IMqttClient _client = new MqttClientFactory().CreateMqttClient();

    public bool IsConnected => _client.IsConnected;

    public List<MqttApplicationMessage> Heard { get; } = [];

    public static async Task<ProbeClient> ConnectAsync(
        IntakeHost host, MqttProtocolVersion version = MqttProtocolVersion.V500, string? user = null, string? password = null,
        string? willTopic = null, string? id = null)
    {
        ProbeClient probe = new();
        MqttClientConnectResult result = await probe.TryConnectAsync(host, version, user, password, willTopic, id);
        Assert.Equal(MqttClientConnectResultCode.Success, result.ResultCode);
        return probe;
    }

    public Task<MqttClientConnectResult> TryConnectAsync(
        IntakeHost host, MqttProtocolVersion version = MqttProtocolVersion.V500, string? user = null, string? password = null,
        string? willTopic = null, string? id = null)
    {
        MqttClientOptionsBuilder options = new MqttClientOptionsBuilder()
            .WithTcpServer("127.0.0.1", host.MqttPort).WithClientId(id ?? Guid.NewGuid().ToString("N")).WithProtocolVersion(version);
        if (user is not null)
        {
            options.WithCredentials(user, password);
        }

        if (willTopic is not null)
        {
            options.WithWillTopic(willTopic).WithWillPayload("offline");
        }

        _client.ApplicationMessageReceivedAsync += e =>
        {
            lock (Heard)
            {
                Heard.Add(e.ApplicationMessage);
            }

            return Task.CompletedTask;
        };
        return _client.ConnectAsync(options.Build(), TestContext.Current.CancellationToken);
    }

    public Task<MqttClientPublishResult> PublishAsync(string topic, string payload, bool retain = false)
        => PublishAsync(topic, Encoding.UTF8.GetBytes(payload), retain);

    public Task<MqttClientPublishResult> PublishAsync(string topic, byte[] payload, bool retain = false)
        => _client.PublishAsync(
            new MqttApplicationMessageBuilder().WithTopic(topic).WithPayload(payload).WithRetainFlag(retain)
                .WithQualityOfServiceLevel(MqttQualityOfServiceLevel.AtLeastOnce).Build(),
            TestContext.Current.CancellationToken);

    public Task<MqttClientSubscribeResult> SubscribeAsync(string filter)
        => _client.SubscribeAsync(filter, cancellationToken: TestContext.Current.CancellationToken);

    public int HeardOn(string topic)
    {
        lock (Heard)
        {
            return Heard.Count(m => m.Topic == topic);
        }
    }

    /// <summary>Goes without saying goodbye: the broker publishes the last will.</summary>
    public async ValueTask DisposeAsync()
    {
        _client.Dispose();
        await Task.CompletedTask;
    }
}
