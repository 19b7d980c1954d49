namespace Incubation.Simulation.Publishing;

/// <summary>How a fleet of simulated probes reaches its broker.</summary>
public sealed record FleetOptions
{
    /// <summary>Host of the broker.</summary>
    public string Host { get; init; } = "127.0.0.1";

    /// <summary>Port of the broker, asked at each connect: it may be known only once the broker listens.</summary>
    public required Func<int> Port { get; init; }

    /// <summary>User and password, or null for none.</summary>
    public (string User, string Password)? Credentials { get; init; }

    /// <summary>Whether each probe has a connection of its own, as real ones have, or all share one.</summary>
    public bool ConnectionPerProbe { get; init; } = true;

    /// <summary>Simulated seconds in one real one; more than 0.</summary>
    public double Speed { get; init; } = 1;

    /// <summary>How often the world is moved on, real time.</summary>
    public TimeSpan Tick { get; init; } = TimeSpan.FromMilliseconds(250);

    /// <summary>Messages that wait for the broker, per connection; beyond it the oldest go, as in a probe with little memory.</summary>
    public int Waiting { get; init; } = 500;

    /// <summary>Where a measurement goes, with {incubator}, {probe} and {quantity}.</summary>
    public string Topic { get; init; } = "incubation/{incubator}/{probe}/{quantity}";

    /// <summary>Put before client ids, so that two fleets at one broker don't throw each other out.</summary>
    public string ClientPrefix { get; init; } = "simulated-";
}
