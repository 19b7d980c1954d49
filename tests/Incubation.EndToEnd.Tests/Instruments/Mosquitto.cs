using System.Globalization;

namespace Incubation.EndToEnd.Tests.Instruments;

/// <summary>Publishes with mosquitto_pub, a client that is not ours; QoS 1, so that it ends when the reading is acknowledged.</summary>
internal sealed class Mosquitto(int port)
{
    private readonly string _program = Needs.Program("mosquitto_pub");
    private int _count;

    public async Task PublishAsync(string topic, string payload, CancellationToken stop)
    {
        Tool.Said said = await TryAsync(topic, ["-m", payload], null, stop);
        if (said.ExitCode != 0)
        {
            throw new InvalidOperationException($"mosquitto_pub to {topic} ended with {said.ExitCode}: {said.Output}");
        }
    }

    /// <summary>A payload too long for an argument, from standard input.</summary>
    public Task<Tool.Said> PublishBytesAsync(string topic, byte[] payload, CancellationToken stop) => TryAsync(topic, ["-s"], payload, stop);

    private Task<Tool.Said> TryAsync(string topic, string[] message, byte[]? input, CancellationToken stop)
        => Tool.TryAsync(_program,
            ["-h", "127.0.0.1", "-p", port.ToString(CultureInfo.InvariantCulture), "-q", "1",
                "-i", string.Create(CultureInfo.InvariantCulture, $"bench-{Environment.ProcessId}-{Interlocked.Increment(ref _count)}"), "-t", topic, .. message],
            stop, input);
}
