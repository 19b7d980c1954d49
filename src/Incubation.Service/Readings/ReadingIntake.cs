using System.Buffers;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Service.Probes;
using Microsoft.Extensions.Options;
using MQTTnet.Protocol;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>
/// The one way in, for the embedded broker's messages and for those of an external one: a reading is heard by all listeners at once and handed
/// to the store; what can't be read is listed with the reason. Safe from any thread.
/// </summary>
internal sealed class ReadingIntake(
    TopicRoutes routes, ReadingListeners listeners, IReadingStore store, ProbeRegister probes, ProbeStatus status,
    RejectedMessages rejected, ServiceClock clock, IOptions<IncubationOptions> options)
{
    private const string TooManyProbes = "More probes than a facility can have are known already. Give each probe one name and keep it.";
    private const string OnlyTheService = "Only the service publishes alarms. Publish readings to a topic of their own.";

    private readonly PayloadFields _fields = new(
        options.Value.Mqtt.Fields.Value, options.Value.Mqtt.Fields.Unit, options.Value.Mqtt.Fields.At);

    /// <summary>Takes one message. The payload is read before this returns.</summary>
    public IntakeResult Take(string topic, in ReadOnlySequence<byte> payload, Delivery delivery)
    {
        TopicRoute route = routes.Of(topic);
        switch (route.Match.Kind)
        {
            case TopicKind.Reading:
                return TakeReading(topic, payload, route, delivery);
            case TopicKind.ProbeStatus:
                // A kept status is the newest one there is: that is what it is kept for.
                return status.Heard(route.Match.Probe!, payload)
                    ? IntakeResult.Done
                    : Reject(topic, payload, ProbeStatus.Allowed, MqttPubAckReasonCode.PayloadFormatInvalid);
            case TopicKind.ServiceAlarm:
                // On a subscription it is our own, coming back.
                return delivery == Delivery.Published
                    ? Reject(topic, payload, OnlyTheService, MqttPubAckReasonCode.NotAuthorized)
                    : IntakeResult.Elsewhere;
            case TopicKind.Unreadable:
                return Reject(topic, payload, route.Match.Reason!, MqttPubAckReasonCode.TopicNameInvalid);
            default:
                return IntakeResult.Elsewhere;
        }
    }

    /// <summary>Lists a message as rejected.</summary>
    public IntakeResult Reject(string topic, in ReadOnlySequence<byte> payload, string reason, MqttPubAckReasonCode code)
    {
        rejected.Add(topic, reason, payload, clock.Wall);
        return IntakeResult.Rejected(reason, code);
    }

    private IntakeResult TakeReading(string topic, in ReadOnlySequence<byte> payload, TopicRoute route, Delivery delivery)
    {
        PayloadResult result = Read(payload, route, clock.Wall);
        if (result.Rejection is not null)
        {
            return Reject(topic, payload, result.Rejection, MqttPubAckReasonCode.PayloadFormatInvalid);
        }

        ReadOnlySpan<Reading> readings = result.Readings.Span;
        if (route.Probe is null)
        {
            route.Probe = probes.Hear(route.Match.Probe!, readings[0].ArrivedAt);
            if (route.Probe is null)
            {
                return Reject(topic, payload, TooManyProbes, MqttPubAckReasonCode.QuotaExceeded);
            }

            route = routes.Keep(topic, route);
        }

        if ((readings[0].Marks & ReadingMarks.ArrivalTime) == 0)
        {
            route.Probe!.ClockOff = result.ClockOff;
        }

        listeners.Observe(readings);
        return IntakeResult.Stored(store.StoreAsync(result.Readings, CancellationToken.None)) with { Readings = result.Readings };
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
}
