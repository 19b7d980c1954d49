using System.Buffers;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Service.Probes;
using Microsoft.Extensions.Options;
using MQTTnet.Protocol;
using MQTTnet.Server;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>
/// What happens to every message that is published. The broker awaits it before the PUBACK: a reading is heard by all listeners at once,
/// and acknowledged when it is on disk.
/// </summary>
internal sealed class PublishHook(
    TopicRoutes routes, ReadingListeners listeners, IReadingStore store, ProbeRegister probes, ProbeStatus status,
    RejectedMessages rejected, BrokerBounds bounds, ServiceClock clock, IOptions<IncubationOptions> options)
{
    private const string TooManyProbes = "More probes than a facility can have are known already. Give each probe one name and keep it.";
    private const string OnlyTheService = "Only the service publishes alarms. Publish readings to a topic of their own.";

    private readonly PayloadFields _fields = new(
        options.Value.Mqtt.Fields.Value, options.Value.Mqtt.Fields.Unit, options.Value.Mqtt.Fields.At);

    public Task OnPublishAsync(InterceptingPublishEventArgs e)
    {
        string topic = e.ApplicationMessage.Topic;
        TopicRoute route = routes.Of(topic);
        bool empty = e.ApplicationMessage.Payload.IsEmpty;
        if (e.ApplicationMessage.Retain)
        {
            // From a probe to this broker it is a live message; the flag only asks the broker to keep a copy for others.
            e.ApplicationMessage.Retain = bounds.MayRetain(topic, empty);
        }

        e.ProcessPublish = bounds.AnyoneListens || e.ApplicationMessage.Retain;
        switch (route.Match.Kind)
        {
            case TopicKind.Reading when empty && e.ApplicationMessage.Retain:
                // How MQTT takes a retained message away.
                return Task.CompletedTask;
            case TopicKind.Reading:
                return TakeReading(e, topic, route);
            case TopicKind.ProbeStatus:
                if (!status.Heard(route.Match.Probe!, e.ApplicationMessage.Payload))
                {
                    Reject(e, ProbeStatus.Allowed, MqttPubAckReasonCode.PayloadFormatInvalid);
                }

                break;
            case TopicKind.ServiceAlarm:
                Reject(e, OnlyTheService, MqttPubAckReasonCode.NotAuthorized);
                break;
            case TopicKind.Elsewhere or TopicKind.Unreadable when topic == BrokerPulse.Topic:
                e.ProcessPublish = false;
                break;
            case TopicKind.Unreadable:
                Reject(e, route.Match.Reason!, MqttPubAckReasonCode.TopicNameInvalid);
                break;
            default:
                // Other programs may use the broker among themselves; a probe on a wrong topic shall be seen.
                if (!bounds.AnyoneListens)
                {
                    Reject(e, routes.NotOurs, MqttPubAckReasonCode.NoMatchingSubscribers);
                }

                break;
        }

        return Task.CompletedTask;
    }

    private Task TakeReading(InterceptingPublishEventArgs e, string topic, TopicRoute route)
    {
        PayloadResult result = Read(e.ApplicationMessage.Payload, route, clock.Wall);
        bool trusted = clock.Trusted;
        if (result.Rejection is not null)
        {
            Reject(e, result.Rejection, MqttPubAckReasonCode.PayloadFormatInvalid);
            return Task.CompletedTask;
        }

        ReadOnlyMemory<Reading> kept = UntrustedArrival.Mark(result.Readings, trusted);
        ReadOnlySpan<Reading> readings = kept.Span;
        if (route.Probe is null)
        {
            route.Probe = probes.Hear(route.Match.Probe!, readings[0].ArrivedAt);
            if (route.Probe is null)
            {
                Reject(e, TooManyProbes, MqttPubAckReasonCode.QuotaExceeded);
                return Task.CompletedTask;
            }

            route = routes.Keep(topic, route);
        }

        // Against a clock that isn't trusted nobody's clock is off.
        if (trusted && (readings[0].Marks & ReadingMarks.ArrivalTime) == 0)
        {
            route.Probe!.ClockOff = result.ClockOff;
        }

        listeners.Observe(readings);
        Task commit = store.StoreAsync(kept, CancellationToken.None);
        return commit.IsCompletedSuccessfully ? Task.CompletedTask : AwaitCommit(commit, e);
    }

    private PayloadResult Read(in ReadOnlySequence<byte> payload, TopicRoute route, Instant arrivedAt)
    {
        if (payload.IsSingleSegment)
        {
            return Read(payload.FirstSpan, route, arrivedAt);
        }

        // One byte more than allowed is enough to be refused as too long.
        int length = (int)Math.Min(payload.Length, Limits.PayloadBytes + 1);
        byte[] whole = ArrayPool<byte>.Shared.Rent(length);
        payload.Slice(0, length).CopyTo(whole);
        PayloadResult result = Read(whole.AsSpan(0, length), route, arrivedAt);
        ArrayPool<byte>.Shared.Return(whole);
        return result;
    }

    private PayloadResult Read(ReadOnlySpan<byte> payload, TopicRoute route, Instant arrivedAt)
    {
        lock (route.Series.Gate)
        {
            PayloadResult result = PayloadReader.Read(
                payload, route.Match.Quantity, route.Match.Probe!, arrivedAt, _fields, route.Series.Memory);
            route.Series.Memory = result.Memory;
            return result;
        }
    }

    private static async Task AwaitCommit(Task commit, InterceptingPublishEventArgs e)
    {
        try
        {
            await commit;
        }
        catch (StoreUnavailableException error)
        {
            e.ProcessPublish = false;
            if (ConnectionGate.HearsReasons(e))
            {
                e.Response.ReasonCode = MqttPubAckReasonCode.ImplementationSpecificError;
                e.Response.ReasonString = error.Message;
            }
            else
            {
                // No PUBACK: the probe keeps the reading and sends it again.
                e.CloseConnection = true;
            }
        }
    }

    private void Reject(InterceptingPublishEventArgs e, string reason, MqttPubAckReasonCode code)
    {
        rejected.Add(e.ApplicationMessage.Topic, reason, e.ApplicationMessage.Payload, clock.Wall);
        e.ProcessPublish = false;
        e.Response.ReasonCode = code;
        e.Response.ReasonString = reason;
    }
}
