namespace Incubation.Service.Hosting;

/// <summary>Stages of the start, in order. The network listens only after the last.</summary>
internal enum StartupStage
{
    /// <summary>Data directory, single-instance lock.</summary>
    House,

    /// <summary>Records opened and migrated.</summary>
    Records,

    /// <summary>Incubators, placements and bands loaded.</summary>
    Facility,

    /// <summary>Readings opened.</summary>
    Readings,

    /// <summary>What the readings and the records tell of before the start, brought back into memory.</summary>
    Recall,

    /// <summary>Alarms, call-out order and outbox loaded.</summary>
    Alarms,

    /// <summary>People and the keys of their sessions.</summary>
    People,

    /// <summary>Which addresses to listen on.</summary>
    Network,
}

/// <summary>One thing that must be done before the service listens. Rooms register theirs; a failure ends the start.</summary>
internal interface IStartupStep
{
    StartupStage Stage { get; }

    Task RunAsync(CancellationToken cancellationToken);
}

/// <summary>
/// Runs every <see cref="IStartupStep"/> by stage before any hosted service starts (the framework runs <c>StartingAsync</c> of all
/// services first), so that Kestrel and the broker never listen before the alarms can hear.
/// </summary>
internal sealed class StartupSequence(IEnumerable<IStartupStep> steps) : IHostedLifecycleService
{
    private volatile string _waitingFor = "the start";

    /// <summary>What readiness waits for, or null when the service is ready.</summary>
    public string? WaitingFor => _waitingFor.Length == 0 ? null : _waitingFor;

    public async Task StartingAsync(CancellationToken cancellationToken)
    {
        foreach (IStartupStep step in steps.OrderBy(step => step.Stage))
        {
            _waitingFor = step.Stage.ToString().ToLowerInvariant();
            await step.RunAsync(cancellationToken);
        }

        _waitingFor = "the network";
    }

    public Task StartAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StartedAsync(CancellationToken cancellationToken)
    {
        _waitingFor = "";
        return Task.CompletedTask;
    }

    public Task StoppingAsync(CancellationToken cancellationToken)
    {
        _waitingFor = "nothing: the service is stopping";
        return Task.CompletedTask;
    }

    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StoppedAsync(CancellationToken cancellationToken) => Task.CompletedTask;
}
