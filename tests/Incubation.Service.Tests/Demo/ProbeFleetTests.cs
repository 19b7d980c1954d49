using System.Collections.Concurrent;
using System.Net;
using System.Text;
using Incubation.Service.Demo;
using Incubation.Simulation.Publishing;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using MQTTnet;
using MQTTnet.AspNetCore;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Demo;

/// <summary>The fleet against a real broker: ours of the same kind as in the service.</summary>
public sealed class ProbeFleetTests
{
    private readonly ConcurrentQueue<(string Topic, string Payload)> _heard = new();
    private int _port, _connections;

    private async Task<WebApplication> BrokerAsync()
    {
        ListenOptions? mqtt = null;
        var builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.WebHost.UseKestrelCore();
        builder.WebHost.ConfigureKestrel(k => k.Listen(IPAddress.Loopback, _port, l =>
        {
            mqtt = l;
            l.UseMqtt();
        }));
        builder.Services.AddHostedMqttServer(o => o.WithoutDefaultEndpoint());
        builder.Services.AddMqttConnectionHandler();
        builder.Services.AddConnections();
        // The probes never leave by themselves: a broker that goes down cuts them off.
        builder.Services.Configure<HostOptions>(o => o.ShutdownTimeout = TimeSpan.FromMilliseconds(200));
        var app = builder.Build();
        app.UseMqttServer(server =>
        {
            server.ClientConnectedAsync += _ => Count();
            server.InterceptingPublishAsync += e => Hear(e.ApplicationMessage);
        });
        await app.StartAsync(TestContext.Current.CancellationToken);
        _port = mqtt!.IPEndPoint!.Port;
        return app;
    }

    private Task Count()
    {
        Interlocked.Increment(ref _connections);
        return Task.CompletedTask;
    }

    private Task Hear(MqttApplicationMessage message)
    {
        _heard.Enqueue((message.Topic, Encoding.UTF8.GetString(message.Payload)));
        return Task.CompletedTask;
    }

    private MqttProbeFleet Fleet(bool connectionPerProbe)
    {
        var now = Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow());
        return new MqttProbeFleet(
            DemoWeek.Simulate(now, 3).World,
            new FleetOptions { Port = () => _port, ConnectionPerProbe = connectionPerProbe, Speed = 20, Tick = TimeSpan.FromMilliseconds(50) },
            TimeProvider.System, 3);
    }

    private static async Task Until(Func<bool> condition)
    {
        using var limit = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        limit.CancelAfter(TimeSpan.FromSeconds(30));
        while (!condition())
        {
            await Task.Delay(TimeSpan.FromMilliseconds(20), TimeProvider.System, limit.Token);
        }
    }

    [Theory]
    [InlineData(true, 10)]
    [InlineData(false, 1)]
    public async Task Probes_publish_by_the_contract_over_the_connections_that_were_asked_for(bool perProbe, int connections)
    {
        await using var broker = await BrokerAsync();
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        var fleet = Fleet(perProbe);
        var run = fleet.RunAsync(stop.Token);
        await Until(() => fleet.Acknowledged >= 60);
        Assert.Equal(connections, Volatile.Read(ref _connections));
        await stop.CancelAsync();
        await run;
        Assert.Contains(_heard, m => m.Topic == "incubation/hazel/hazel-air/temperature" && m.Payload.StartsWith("{\"value\":3", StringComparison.Ordinal));
        Assert.Contains(_heard, m => m.Topic == "incubation/juniper/juniper-air/humidity" && m.Payload.Contains("\"at\":\"20", StringComparison.Ordinal));
        Assert.Contains(_heard, m => m.Topic.EndsWith("/status", StringComparison.Ordinal) && m.Payload == "online");
    }

    [Fact]
    public async Task When_the_broker_comes_back_the_probes_go_on()
    {
        var broker = await BrokerAsync();
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        var fleet = Fleet(connectionPerProbe: true);
        var run = fleet.RunAsync(stop.Token);
        await Until(() => fleet.Acknowledged >= 20);
        await broker.StopAsync(TestContext.Current.CancellationToken);
        await broker.DisposeAsync();
        var before = fleet.Acknowledged;
        await using var again = await BrokerAsync();
        await Until(() => fleet.Acknowledged >= before + 50);
        await stop.CancelAsync();
        await run;
    }

    [Fact]
    public async Task No_sample_comes_from_the_future()
    {
        await using var broker = await BrokerAsync();
        using var stop = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        var fleet = Fleet(connectionPerProbe: false);
        var run = fleet.RunAsync(stop.Token);
        await Until(() => _heard.Count(m => m.Payload.Contains("\"at\"", StringComparison.Ordinal)) > 20);
        var now = TimeProvider.System.GetUtcNow();
        await stop.CancelAsync();
        await run;
        foreach (var (_, payload) in _heard.Where(m => m.Payload.Contains("\"at\"", StringComparison.Ordinal)).Take(20))
        {
            var at = System.Text.Json.JsonDocument.Parse(payload).RootElement.GetProperty("at").GetDateTimeOffset();
            Assert.True(at <= now, $"{at:O} is after {now:O}");
        }
    }
}
