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
    private const string TooManyQuantities = "The probe has more quantities than a probe can have. Give each quantity one name and keep it.";
    private const string OnlyTheService = "Only the service publishes alarms. Publish readings to a topic of their own.";

    private readonly PayloadFields _fields = options.Value.Mqtt.Fields.Names();

    /// <summary>Takes one message. The payload is read before this returns.</summary>
    /// <param name="topic">Where it was published.</param>
    /// <param name="payload">What it says.</param>
    /// <param name="delivery">How it came.</param>
    /// <param name="sender">Who is answered when it is stored; null when the caller waits for that before it takes the sender's next.</param>
    public IntakeResult Take(string topic, in ReadOnlySequence<byte> payload, Delivery delivery, ReadingSender? sender = null)
    {
        TopicRoute route = routes.Of(topic);
        switch (route.Match.Kind)
        {
            case TopicKind.Reading:
                return TakeReading(topic, payload, route, delivery, sender);
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

    private IntakeResult TakeReading(string topic, in ReadOnlySequence<byte> payload, TopicRoute route, Delivery delivery, ReadingSender? sender)
    {
        PayloadResult result = Read(payload, route, clock.Wall, delivery);
        bool trusted = clock.Trusted;
        if (result.Rejection is not null)
        {
            return Reject(topic, payload, result.Rejection, MqttPubAckReasonCode.PayloadFormatInvalid);
        }

        ReadOnlyMemory<Reading> readings = result.Readings;
        string? leftOut = result.LeftOut;
        bool plain = route.Probe is not null && readings.Length == 1 && route.IsOwn(readings.Span[0].Series);
        if (!plain)
        {
            readings = Admit(readings, ref leftOut);
            if (readings.IsEmpty)
            {
                return Reject(topic, payload, leftOut!, MqttPubAckReasonCode.QuotaExceeded);
            }

            if (route.Probe is null)
            {
                route.Probe = probes.Find(route.Match.Probe!);
                route = routes.Keep(topic, route);
            }
        }

        if (leftOut is not null)
        {
            // The rest is taken, and the probe is told that all is well: sent again, it would be the same.
            rejected.Add(topic, leftOut, payload, clock.Wall);
        }

        readings = UntrustedArrival.Mark(readings, trusted);
        NoteAll(readings.Span, result, route, plain, trusted && delivery != Delivery.Kept);
        listeners.Observe(readings.Span);
        return IntakeResult.Stored(store.StoreAsync(readings, sender, CancellationToken.None)) with { Readings = readings };
    }

    /// <summary>The readings of probes and quantities that are known or may become so.</summary>
    private ReadOnlyMemory<Reading> Admit(ReadOnlyMemory<Reading> readings, ref string? leftOut)
    {
        List<Reading>? admitted = null;
        for (int i = 0; i < readings.Length; i++)
        {
            ref readonly Reading reading = ref readings.Span[i];
            string? reason = probes.Hear(reading.Series.Probe, reading.ArrivedAt) is null ? TooManyProbes
                : !routes.Admit(reading.Series) ? TooManyQuantities
                : null;
            if (reason is null)
            {
                admitted?.Add(reading);
                continue;
            }

            leftOut ??= reason;
            admitted ??= [.. readings.Span[..i]];
        }

        return admitted is null ? readings : admitted.ToArray();
    }

    private void NoteAll(ReadOnlySpan<Reading> readings, in PayloadResult result, TopicRoute route, bool plain, bool tellsClocks)
    {
        KnownProbe? before = null;
        foreach (ref readonly Reading reading in readings)
        {
            if (reading.IsGood)
            {
                routes.Remember(route, reading);
            }

            // What a broker had kept for nobody knows how long tells nothing of a clock, nor does a service that doubts its own.
            if (result.SaysTime && tellsClocks
                && (plain ? route.Probe : probes.Find(reading.Series.Probe)) is { } probe && probe != before)
            {
                probe.NoteClock(result.SentAt, reading.ArrivedAt, result.ClockOff);
                before = probe;
            }
        }
    }

    private PayloadResult Read(in ReadOnlySequence<byte> payload, TopicRoute route, Instant arrivedAt, Delivery delivery)
    {
        PayloadSource source = new(route.Match.Probe!, route.Quantity, arrivedAt, delivery == Delivery.Kept);
        if (payload.IsSingleSegment)
        {
            return PayloadReader.Read(payload.FirstSpan, source, _fields, route);
        }

        // One byte more than allowed is enough to be refused as too long.
        int length = (int)Math.Min(payload.Length, Limits.PayloadBytes + 1);
        byte[] whole = ArrayPool<byte>.Shared.Rent(length);
        payload.Slice(0, length).CopyTo(whole);
        PayloadResult result = PayloadReader.Read(whole.AsSpan(0, length), source, _fields, route);
        ArrayPool<byte>.Shared.Return(whole);
        return result;
    }
}
