using MQTTnet.Adapter;
using MQTTnet.AspNetCore;
using MQTTnet.Diagnostics.Logger;
using MQTTnet.Server;

namespace Incubation.Service.Readings;

/// <summary>
/// Stands between Kestrel's connections and the broker. The broker takes a client's next message only when the publish hook has returned, so
/// the hook can't wait for the disk without keeping the readings behind it from being judged: the answers wait here instead.
/// </summary>
internal sealed class AcknowledgingAdapter(MqttConnectionHandler connections, Unanswered all, ILogger<AcknowledgingAdapter> log) : IMqttServerAdapter
{
    public Func<IMqttChannelAdapter, Task>? ClientHandler { get; set; }

    public Task StartAsync(MqttServerOptions options, IMqttNetLogger logger)
    {
        connections.ClientHandler = ServeAsync;
        return connections.StartAsync(options, logger);
    }

    public Task StopAsync() => connections.StopAsync();

    public void Dispose() => connections.ClientHandler = null;

    private async Task ServeAsync(IMqttChannelAdapter connection)
    {
        if (ClientHandler is { } serve)
        {
            using AcknowledgingChannel channel = new(connection, all, log);
            await serve(channel);
        }
    }
}
