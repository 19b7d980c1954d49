using Incubation.Core.Readings;
using MQTTnet.Protocol;

namespace Incubation.Service.Readings;

/// <summary>How a message came.</summary>
internal enum Delivery
{
    /// <summary>Published by a client to the embedded broker: live, whatever its RETAIN flag says, which only asks the broker to keep a copy.</summary>
    Published,

    /// <summary>Delivered on the service's own subscription, without RETAIN: live.</summary>
    Subscribed,

    /// <summary>Delivered on the service's own subscription with RETAIN: the broker had kept it, and it is of unknown age.</summary>
    Kept,
}

/// <summary>What came of a message.</summary>
/// <param name="Commit">Completes when the readings are safe, and fails with <c>StoreUnavailableException</c>; completed when nothing is to be stored.</param>
/// <param name="Rejection">Cause and fix, or null when the message was taken or is none of ours.</param>
/// <param name="Code">MQTT's word for it.</param>
internal readonly record struct IntakeResult(Task Commit, string? Rejection, MqttPubAckReasonCode Code)
{
    /// <summary>What is to be stored: whoever may not acknowledge yet hands them to the store again, with the times they came at first.</summary>
    public ReadOnlyMemory<Reading> Readings { get; init; }

    /// <summary>Taken, and nothing is to be stored.</summary>
    public static IntakeResult Done { get; } = new(Task.CompletedTask, null, MqttPubAckReasonCode.Success);

    /// <summary>Of another program: neither taken nor rejected.</summary>
    public static IntakeResult Elsewhere { get; } = new(Task.CompletedTask, null, MqttPubAckReasonCode.NoMatchingSubscribers);

    public bool IsElsewhere => Rejection is null && Code == MqttPubAckReasonCode.NoMatchingSubscribers;

    public static IntakeResult Stored(Task commit) => new(commit, null, MqttPubAckReasonCode.Success);

    public static IntakeResult Rejected(string reason, MqttPubAckReasonCode code) => new(Task.CompletedTask, reason, code);
}
