using Incubation.Core.Alarms;
using Incubation.Service.Alarms;

namespace Incubation.Service.Calling;

/// <summary>Who is called next, as last planned: read by the alarm desk, written by the call desk.</summary>
internal sealed class CallPlan : ICallPlan
{
    private volatile IReadOnlyDictionary<Guid, NextCall> _next = new Dictionary<Guid, NextCall>();

    public NextCall? Next(Guid occurrence) => _next.GetValueOrDefault(occurrence);

    public void Replace(IReadOnlyDictionary<Guid, NextCall> next) => _next = next;
}

/// <summary>Whether anybody can be reached, for the first screen.</summary>
/// <param name="Reachable">False when an alarm would wake nobody.</param>
/// <param name="Words">In a plain sentence.</param>
internal sealed record CallOutHealth(bool Reachable, string Words);
