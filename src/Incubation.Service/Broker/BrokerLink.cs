using Incubation.Core;
using Incubation.Service.Hosting;
using MQTTnet;
using MQTTnet.Formatter;
using MQTTnet.Protocol;

namespace Incubation.Service.Broker;

/// <summary>
/// The client and its calls, each with its own limit of time. The client lives as long as this does; what it says of its own health is
/// never asked.
/// </summary>
internal sealed class BrokerLink : IAsyncDisposable
{
    private static readonly TimeSpan KeepAlive = TimeSpan.FromSeconds(30);

    private readonly IMqttClient _client = new MqttClientFactory().CreateMqttClient();
    private readonly ExternalBrokerOptions _external;
    private readonly LossWords _words;
    private readonly string _clientId;
    private readonly TimeProvider _time;
    private readonly TimeSpan _patience;
    private TaskCompletionSource<BrokerLoss> _lost = new(TaskCreationOptions.RunContinuationsAsynchronously);

    /// <param name="external">Where to.</param>
    /// <param name="clientId">Name of the session.</param>
    /// <param name="words">Tells why something failed.</param>
    /// <param name="patience">How long a call may take.</param>
    /// <param name="time">For the limits.</param>
    /// <param name="arrived">Hears each message. It must not wait, and false drops the connection.</param>
    public BrokerLink(
        ExternalBrokerOptions external, string clientId, LossWords words, TimeSpan patience, TimeProvider time,
        Func<MqttApplicationMessageReceivedEventArgs, bool> arrived)
    {
        (_external, _clientId, _words, _patience, _time) = (external, clientId, words, patience, time);
        _client.ApplicationMessageReceivedAsync += e =>
        {
            // Acknowledged by whoever stores it; the loop that reads from the socket waits for nobody.
            e.AutoAcknowledge = false;
            if (!arrived(e))
            {
                Lose(_words.TooMany());
            }

            return Task.CompletedTask;
        };
        _client.DisconnectedAsync += e =>
        {
            if (e.ClientWasConnected)
            {
                Lose(_words.Disconnected(e.Reason, e.ReasonString, e.Exception));
            }

            return Task.CompletedTask;
        };
    }

    /// <summary>Completes when the connection is lost, with the first reason that was found.</summary>
    public Task<BrokerLoss> Lost => _lost.Task;

    public void Lose(BrokerLoss loss) => _lost.TrySetResult(loss);

    /// <summary>Connects; the session that the broker kept goes on. Null when it worked, and whether a session was kept.</summary>
    public async Task<(BrokerLoss? Loss, bool SessionKept)> ConnectAsync(CancellationToken stop)
    {
        _lost = new TaskCompletionSource<BrokerLoss>(TaskCreationOptions.RunContinuationsAsynchronously);
        string? doubt = null;
        try
        {
            using BrokerTrust? trust = _external.Tls ? new BrokerTrust(_external) : null;
            try
            {
                MqttClientConnectResult result = await InTimeAsync(token => _client.ConnectAsync(Options(trust), token), stop);
                return result.ResultCode == MqttClientConnectResultCode.Success
                    ? (null, result.IsSessionPresent)
                    : (_words.Refused(result.ResultCode, result.ReasonString), false);
            }
            finally
            {
                doubt = trust?.Doubt;
            }
        }
#pragma warning disable CA1031 // A connection fails in many ways; each is told in words, and tried again.
        catch (Exception error) when (!stop.IsCancellationRequested)
#pragma warning restore CA1031
        {
            return (_words.Failed(error, doubt), false);
        }
    }

    /// <summary>Subscribes, whether or not a session was kept: asking again changes nothing, and a lost subscription is silent.</summary>
    /// <param name="filters">What to hear.</param>
    /// <param name="sendKept">Whether the broker is to send what it keeps of each topic.</param>
    /// <param name="stop">Ends the waiting.</param>
    public async Task<BrokerLoss?> SubscribeAsync(IReadOnlyList<string> filters, bool sendKept, CancellationToken stop)
    {
        MqttClientSubscribeOptionsBuilder wanted = new();
        foreach (string filter in filters)
        {
            wanted.WithTopicFilter(topic => topic
                .WithTopic(filter).WithAtLeastOnceQoS()
                // Without "retain as published" the flag means one thing only: kept by the broker, and old.
                .WithRetainAsPublished(false)
                .WithRetainHandling(sendKept ? MqttRetainHandling.SendAtSubscribe : MqttRetainHandling.SendAtSubscribeIfNewSubscriptionOnly));
        }

        return await TryAsync(async token =>
        {
            MqttClientSubscribeResult result = await _client.SubscribeAsync(wanted.Build(), token);
            return result.Items.FirstOrDefault(i => i.ResultCode is not (MqttClientSubscribeResultCode.GrantedQoS1 or MqttClientSubscribeResultCode.GrantedQoS2))
                is { } refused ? _words.NotSubscribed(refused.TopicFilter.Topic, refused.ResultCode.ToString()) : null;
        }, stop);
    }

    /// <summary>Sends our own message, and asks the broker for a sign of life.</summary>
    public async Task<BrokerLoss?> BeatAsync(string topic, byte[] payload, CancellationToken stop) => await TryAsync(async token =>
    {
        await _client.PublishAsync(new MqttApplicationMessageBuilder().WithTopic(topic).WithPayload(payload).Build(), token);
        await _client.PingAsync(token);
        return null;
    }, stop);

    /// <summary>Ends the connection without a word about its success: the other side may be long gone. The session stays.</summary>
    public async Task CloseAsync()
    {
        try
        {
            using CancellationTokenSource late = new(TimeSpan.FromSeconds(2), _time);
            await _client.DisconnectAsync(new MqttClientDisconnectOptionsBuilder().Build(), late.Token);
        }
#pragma warning disable CA1031 // It is gone either way.
        catch (Exception)
#pragma warning restore CA1031
        {
            return;
        }
    }

    public async ValueTask DisposeAsync()
    {
        await CloseAsync();
        _client.Dispose();
    }

    private MqttClientOptions Options(BrokerTrust? trust)
    {
        MqttClientOptionsBuilder options = new MqttClientOptionsBuilder()
            .WithTcpServer(_external.Host!, _external.PortInUse)
            .WithProtocolVersion(MqttProtocolVersion.V500)
            .WithClientId(_clientId)
            .WithCleanStart(false)
            .WithSessionExpiryInterval((uint)TimeSpan.FromHours(_external.KeepSessionHours).TotalSeconds)
            .WithReceiveMaximum(Limits.UnacknowledgedMessages)
            .WithMaximumPacketSize(Limits.ExternalPacketBytes)
            .WithKeepAlivePeriod(KeepAlive);
        if (!string.IsNullOrEmpty(_external.User))
        {
            options.WithCredentials(_external.User, _external.Password);
        }

        if (trust is not null)
        {
            options.WithTlsOptions(trust.Apply);
        }

        return options.Build();
    }

    private async Task<BrokerLoss?> TryAsync(Func<CancellationToken, Task<BrokerLoss?>> call, CancellationToken stop)
    {
        try
        {
            return await InTimeAsync(call, stop);
        }
#pragma warning disable CA1031 // As above: in words, and tried again.
        catch (Exception error) when (!stop.IsCancellationRequested)
#pragma warning restore CA1031
        {
            // When the connection was found lost meanwhile, that is the better reason.
            return _lost.Task.IsCompleted ? await _lost.Task : error is OperationCanceledException ? _words.NoAnswer() : _words.Failed(error, null);
        }
    }

    // WaitAsync too: a call that does not obey its token must not hold the owner.
    private async Task<T> InTimeAsync<T>(Func<CancellationToken, Task<T>> call, CancellationToken stop)
    {
        using CancellationTokenSource late = new(_patience, _time);
        using CancellationTokenSource end = CancellationTokenSource.CreateLinkedTokenSource(late.Token, stop);
        return await call(end.Token).WaitAsync(end.Token);
    }
}
