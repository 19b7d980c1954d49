using NodaTime;

namespace Incubation.Service.Broker;

/// <summary>Where readings come from, and whether they can.</summary>
internal interface IReadingSource
{
    ReadingSourceView Now();
}

/// <param name="Kind"><c>embedded</c> or <c>external</c>.</param>
/// <param name="State"><c>starting</c>, <c>listening</c>, <c>reconnecting</c> or <c>broken</c>.</param>
/// <param name="Since">Since when it is connected, or null when it is not.</param>
/// <param name="HeartbeatAt">When the service's own message was last heard through the broker, or null.</param>
/// <param name="Words">The same for people, with cause and fix when something is wrong.</param>
internal sealed record ReadingSourceView(string Kind, string State, Instant? Since, Instant? HeartbeatAt, string Words);
