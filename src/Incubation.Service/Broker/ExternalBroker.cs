using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Service.Readings;
using Microsoft.Extensions.Options;
using MQTTnet;

namespace Incubation.Service.Broker;

/// <summary>
/// Owns the connection to an external broker: connects, subscribes, watches, and begins again. One loop; nothing of it runs inside the
/// client's own callbacks. Progress is shown only when our own message has come back.
/// </summary>
internal sealed class ExternalBroker(
    WorkerSupport support, ExternalSource source, BrokerIdentity identity, ReadingIntake intake, IReadingStore store,
    IOptions<IncubationOptions> options) : SupervisedWorker(support, "broker", stallsAfter: TimeSpan.FromSeconds(90))
{
    /// <summary>Connections in a row that let us in and then let nothing through; a new client is tried after as many.</summary>
    private const int MostDeaf = 3;

    /// <summary>How long a stop waits for what has arrived to be stored and acknowledged.</summary>
    private static readonly TimeSpan Goodbye = TimeSpan.FromSeconds(5);

    private readonly MqttOptions _mqtt = options.Value.Mqtt;
    private string? _told;

    protected override async Task RunAsync(CancellationToken stop)
    {
        source.Started();
        string clientId = identity.ClientId;
        LossWords words = new(_mqtt.External, clientId);
        Heartbeat heartbeat = new(_mqtt.Topic, clientId);
        Handover handover = new();
        Redeliveries redeliveries = new();
        using Deliveries deliveries = new(handover, intake, store, redeliveries, Time, Log);
        source.StoreTrouble = () => deliveries.Trouble;
        int connection = 0;
        bool closing = false;

        bool Arrived(MqttApplicationMessageReceivedEventArgs e)
        {
            string topic = e.ApplicationMessage.Topic;
            if (heartbeat.Owns(topic))
            {
                if (heartbeat.IsOurs(topic, e.ApplicationMessage.Payload))
                {
                    source.Heard();
                }

                return true;
            }

            // What comes while the service stops is left unacknowledged, and comes again.
            return Volatile.Read(ref closing) || handover.TryTake(Volatile.Read(ref connection), e);
        }

        using CancellationTokenSource end = new();
        await using BrokerLink link = new(_mqtt.External, clientId, words, source.Health.Patience, Time, Arrived);
        Task delivering = deliveries.RunAsync(end.Token);
        using CancellationTokenSource owning = CancellationTokenSource.CreateLinkedTokenSource(stop);
        Task own = OwnAsync(link, heartbeat, words, redeliveries, async () => Volatile.Write(ref connection, await deliveries.NextConnectionAsync(owning.Token)), owning.Token);
        try
        {
            await await Task.WhenAny(own, delivering);
        }
        finally
        {
            Volatile.Write(ref closing, true);
            handover.Close();
            await owning.CancelAsync();
            end.CancelAfter(Goodbye);
            await Task.WhenAll(own, delivering).ContinueWith(static _ => { }, CancellationToken.None, TaskContinuationOptions.None, TaskScheduler.Default);
        }
    }

    private async Task OwnAsync(
        BrokerLink link, Heartbeat heartbeat, LossWords words, Redeliveries redeliveries, Func<Task> nextConnection, CancellationToken stop)
    {
        IReadOnlyList<string> filters = TopicTemplate.TryParse(_mqtt.Topic, out TopicTemplate? template, out string? reason)
            ? template!.Filters
            : throw new InvalidOperationException(reason);
        ReconnectPolicy policy = new();
        bool first = true;
        int deaf = 0;
        ShortLives lives = new();
        while (true)
        {
            await nextConnection();
            TimeSpan heardFor = TimeSpan.Zero, lasted = TimeSpan.Zero;
            (BrokerLoss? loss, bool kept) = await link.ConnectAsync(stop);
            if (loss is null)
            {
                if (!kept)
                {
                    redeliveries.Forget();
                }

                loss = await link.SubscribeAsync(filters, sendKept: first || !kept, stop);
            }

            if (loss is null)
            {
                first = false;
                source.Connected();
                Log.LogInformation("Connected to the broker at {Broker} as {ClientId}; the session {Session}",
                    words.Broker, identity.ClientId, kept ? "goes on" : "is new");
                long connectedAt = Time.GetTimestamp();
                (loss, heardFor) = await WatchAsync(link, heartbeat, words, stop);
                lasted = Time.GetElapsedTime(connectedAt);
                deaf = heardFor > TimeSpan.Zero || loss.Kind != LossKind.Silent ? 0 : deaf + 1;
            }

            loss = lives.Ended(loss.Kind, lasted) ? words.ClosedAgainAndAgain() : loss;
            source.Lost(loss);
            Tell(loss);
            await link.CloseAsync();
            if (deaf >= MostDeaf)
            {
                throw new InvalidOperationException($"{MostDeaf} connections in a row let nothing through. {loss.Words}");
            }

            await Task.Delay(policy.After(loss.Kind, heardFor, Random.Shared.NextDouble()), Time, stop);
        }
    }

    /// <summary>Sends our own message at once and then in even steps, until the connection is lost or found dead.</summary>
    private async Task<(BrokerLoss Loss, TimeSpan HeardFor)> WatchAsync(BrokerLink link, Heartbeat heartbeat, LossWords words, CancellationToken stop)
    {
        long connectedAt = Time.GetTimestamp();
        TimeSpan heardFor = TimeSpan.Zero;
        using PeriodicTimer timer = new(source.Health.Every / 5, Time);
        for (int step = 0; ; step++)
        {
            if (step % 5 == 0 && await link.BeatAsync(heartbeat.Topic, heartbeat.Next(), stop) is { } failed)
            {
                return (failed, heardFor);
            }

            Task<bool> tick = timer.WaitForNextTickAsync(stop).AsTask();
            if (await Task.WhenAny(link.Lost, tick) == link.Lost)
            {
                return (await link.Lost, heardFor);
            }

            await tick;
            TimeSpan connected = Time.GetElapsedTime(connectedAt), unheard = source.UnheardFor;
            if (unheard < connected)
            {
                heardFor = connected - unheard;
                _told = null;
                Progress();
            }

            if (TimeSpan.FromTicks(Math.Min(unheard.Ticks, connected.Ticks)) > source.Health.RebuildAfter)
            {
                return (words.Unheard(), heardFor);
            }
        }
    }

    // Once for each reason, not for each attempt.
    private void Tell(BrokerLoss loss)
    {
        if (_told == loss.Words)
        {
            return;
        }

        _told = loss.Words;
        if (loss.Kind is LossKind.TakenOver or LossKind.Refused)
        {
            Log.LogError("{Words}", loss.Words);
        }
        else
        {
            Log.LogWarning("{Words} Connecting again", loss.Words);
        }
    }
}
