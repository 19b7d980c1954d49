using Incubation.Core.Readings;
using Incubation.Service.Live;

namespace Incubation.Service.Readings;

/// <summary>Says in the log, and to whoever looks at the first screen, that readings go another way now.</summary>
internal sealed class StoreWatch(IStoreState store, ILiveFeed feed, ILogger<StoreWatch> log) : IHostedService
{
    public Task StartAsync(CancellationToken cancellationToken)
    {
        store.StateChanged += OnChanged;
        if (store.State.NeedsAttention)
        {
            OnChanged();
        }

        return Task.CompletedTask;
    }

    public Task StopAsync(CancellationToken cancellationToken)
    {
        store.StateChanged -= OnChanged;
        return Task.CompletedTask;
    }

    // On the writer's thread: both of these only hand over.
    private void OnChanged()
    {
        StoreState state = store.State;
        log.Log(state.NeedsAttention ? LogLevel.Warning : LogLevel.Information, "Store of readings: {Kind}. {Words}", state.Kind, state.Words);
        feed.Publish("alarms", new { });
    }
}
