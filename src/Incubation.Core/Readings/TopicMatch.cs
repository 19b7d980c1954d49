namespace Incubation.Core.Readings;

/// <summary>What a topic is for.</summary>
public enum TopicKind
{
    /// <summary>Not of this service's template: other programs may use the broker.</summary>
    Elsewhere,

    /// <summary>A reading.</summary>
    Reading,

    /// <summary><c>online</c> or <c>offline</c> of a probe.</summary>
    ProbeStatus,

    /// <summary>The service's own topic for sirens: nobody else may publish there.</summary>
    ServiceAlarm,

    /// <summary>Meant for this service, but of a wrong shape or with a wrong name: rejected with a reason.</summary>
    Unreadable,
}

/// <summary>What a topic is about.</summary>
/// <param name="Kind">What it is for.</param>
/// <param name="IncubatorHint">The incubator the topic names; only a hint for the first placement. Null when the template has none.</param>
/// <param name="Probe">The probe's name; never null for <see cref="TopicKind.Reading"/> and <see cref="TopicKind.ProbeStatus"/>.</param>
/// <param name="Quantity">What was measured; only for <see cref="TopicKind.Reading"/>.</param>
/// <param name="Reason">Cause and fix; only for <see cref="TopicKind.Unreadable"/>.</param>
public readonly record struct TopicMatch(TopicKind Kind, string? IncubatorHint, string? Probe, Quantity Quantity, string? Reason)
{
    internal static TopicMatch Of(TopicKind kind, string? incubator = null, string? probe = null, Quantity quantity = default) =>
        new(kind, incubator, probe, quantity, null);

    internal static TopicMatch Unreadable(string reason) => new(TopicKind.Unreadable, null, null, default, reason);
}
