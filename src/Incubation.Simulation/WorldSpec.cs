using Incubation.Simulation.Cabinets;
using Incubation.Simulation.Probes;
using Incubation.Simulation.Rooms;
using Incubation.Simulation.Scenarios;
using NodaTime;

namespace Incubation.Simulation;

/// <summary>All that a simulation starts from: the same spec gives the same samples, bit by bit.</summary>
public sealed record WorldSpec
{
    /// <summary>Where all chance comes from.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>When it starts.</summary>
    public required Instant Start { get; init; }

    /// <summary>
    /// The inner step, seconds, 0.1 to 300. Heat and vapour are exact within it; thermostats are asked once a step, and happenings
    /// begin on one.
    /// </summary>
    public double StepSeconds { get; init; } = 5;

    /// <summary>The room.</summary>
    public RoomSpec Room { get; init; } = new();

    /// <summary>The incubators; keys are unique.</summary>
    public required IReadOnlyList<CabinetSpec> Cabinets { get; init; }

    /// <summary>The probes; keys are unique, and each names one of the cabinets.</summary>
    public required IReadOnlyList<ProbeSpec> Probes { get; init; }

    /// <summary>What happens by itself.</summary>
    public Scenario Scenario { get; init; } = Scenario.Empty;
}
