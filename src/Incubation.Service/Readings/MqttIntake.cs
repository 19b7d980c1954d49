using MQTTnet.Protocol;
using MQTTnet.Server;

namespace Incubation.Service.Readings;

/// <summary>Joins the broker and the rest of the room before the first client may connect.</summary>
internal sealed class MqttIntake(MqttServer server, ConnectionGate gate, PublishHook hook, BrokerBounds bounds, Unanswered unanswered) : IHostedLifecycleService
{
    public Task StartAsync(CancellationToken cancellationToken)
    {
        server.ValidatingConnectionAsync += gate.OnConnectingAsync;
        server.InterceptingPublishAsync += hook.OnPublishAsync;
        server.InterceptingSubscriptionAsync += OnSubscribing;
        server.ClientSubscribedTopicAsync += OnSubscribed;
        server.ClientUnsubscribedTopicAsync += OnUnsubscribed;
        server.SessionDeletedAsync += OnSessionDeleted;
        return Task.CompletedTask;
    }

    // Two commit windows: what is committed by then need not come again after the restart.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(2);

    /// <summary>Says goodbye to the probes first: Kestrel would wait for each open connection as long as a stop may take.</summary>
    public async Task StoppingAsync(CancellationToken cancellationToken)
    {
        if (server.IsStarted)
        {
            await unanswered.CloseAsync(Patience, cancellationToken);
            await server.StopAsync(new MqttServerStopOptionsBuilder().Build());
        }
    }

    public Task StartingAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StartedAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StoppedAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    private Task OnSubscribing(InterceptingSubscriptionEventArgs e)
    {
        if (!bounds.MaySubscribe(e.ClientId, e.TopicFilter.Topic))
        {
            e.ProcessSubscription = false;
            e.Response.ReasonCode = MqttSubscribeReasonCode.QuotaExceeded;
        }

        return Task.CompletedTask;
    }

    private Task OnSubscribed(ClientSubscribedTopicEventArgs e)
    {
        bounds.Subscribed(e.ClientId, e.TopicFilter.Topic);
        return Task.CompletedTask;
    }

    private Task OnUnsubscribed(ClientUnsubscribedTopicEventArgs e)
    {
        bounds.Unsubscribed(e.ClientId, e.TopicFilter);
        return Task.CompletedTask;
    }

    private Task OnSessionDeleted(SessionDeletedEventArgs e)
    {
        bounds.SessionEnded(e.Id);
        return Task.CompletedTask;
    }
}
