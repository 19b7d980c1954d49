using Incubation.Service.People;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.Extensions.Options;

namespace Incubation.Service.Hosting;

/// <summary>Opens the service to the network at the moment it gets an owner, without a restart.</summary>
internal sealed class Listening(
    ListenSource source, PeopleRoster roster, RunMode mode, LocalAddresses local, IServer server, IOptions<IncubationOptions> options,
    IHostApplicationLifetime lifetime, ILogger<Listening> log) : IStartupStep, IHostedService
{
    private Dictionary<string, string?> _atStart = [];

    public StartupStage Stage => StartupStage.Network;

    /// <summary>Decides the addresses before Kestrel binds, now that the people are known.</summary>
    public Task RunAsync(CancellationToken cancellationToken)
    {
        _atStart = ListenPlan.For(options.Value, roster.IsClaimed, mode.Demo, options.Value.Http.Port, options.Value.Mqtt.Port);
        source.Replace(_atStart);
        return Task.CompletedTask;
    }

    public Task StartAsync(CancellationToken cancellationToken)
    {
        roster.Claimed += Open;
        lifetime.ApplicationStarted.Register(() => log.LogInformation("Listening on {Addresses}", string.Join(" ", Addresses())));
        return Task.CompletedTask;
    }

    public Task StopAsync(CancellationToken cancellationToken)
    {
        roster.Claimed -= Open;
        return Task.CompletedTask;
    }

    private void Open()
    {
        // A port that was taken by chance stays: whoever claimed is looking at it.
        int http = Port(0, options.Value.Http.Port);
        int mqtt = Port(1, options.Value.Mqtt.Port);
        source.Replace(ListenPlan.Beside(
            options.Value, mode.Demo, http, mqtt, _atStart[$"Endpoints:{ListenPlan.Http}:Url"]!, _atStart.GetValueOrDefault($"Endpoints:{ListenPlan.Mqtt}:Url"), local.Find()));
        log.LogInformation("The facility has an owner; listening as the settings say: Http {Listen}", options.Value.Http.Listen);
    }

    private int Port(int index, int setting)
        => setting != 0 ? setting : Addresses().Select(address => new Uri(address.Replace("*", "0.0.0.0", StringComparison.Ordinal)).Port).ElementAtOrDefault(index);

    private ICollection<string> Addresses() => server.Features.Get<IServerAddressesFeature>()?.Addresses ?? [];
}
