using Incubation.Simulation.Probes;
using Incubation.Simulation.Scenarios;
using NodaTime;

namespace Incubation.Simulation.Publishing;

/// <summary>Runs a world against the clock and publishes what its probes measure over real MQTT. Safe to use from any thread.</summary>
public sealed class MqttProbeFleet
{
    private readonly World _world;
    private readonly FleetOptions _options;
    private readonly TimeProvider _time;
    private readonly ProbeLink[] _links;
    private readonly string[,] _topics;
    private readonly Lock _gate = new();
    private readonly Instant _simulatedStart, _wallStart;
    private readonly long _startTimestamp;

    /// <summary>Makes the fleet; the world goes on from where it is, and its time passes from now.</summary>
    /// <exception cref="ArgumentException">The speed is not more than 0.</exception>
    public MqttProbeFleet(World world, FleetOptions options, TimeProvider time, ulong seed)
    {
        ArgumentNullException.ThrowIfNull(world);
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(time);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(options.Speed);
        _world = world;
        _options = options;
        _time = time;
        _simulatedStart = world.Now;
        _wallStart = Instant.FromDateTimeOffset(time.GetUtcNow());
        _startTimestamp = time.GetTimestamp();
        _links = new ProbeLink[world.Probes.Count];
        _topics = new string[world.Probes.Count, 2];
        ProbeLink? shared = null;
        for (var i = 0; i < _links.Length; i++)
        {
            var probe = world.Probes[i];
            _topics[i, 0] = TopicOf(probe, PayloadWriter.QuantityOf(Measured.Temperature));
            _topics[i, 1] = TopicOf(probe, PayloadWriter.QuantityOf(Measured.Humidity));
            var own = Chance.SeedOf(seed, probe.Key);
            _links[i] = options.ConnectionPerProbe
                ? new ProbeLink(options, options.ClientPrefix + probe.Key, TopicOf(probe, "status"), own, time)
                : shared ??= new ProbeLink(options, options.ClientPrefix + "gateway", TopicOf(probe, "status"), own, time);
        }
    }

    /// <summary>Measurements that the broker has acknowledged.</summary>
    public long Acknowledged => _links.Distinct().Sum(link => link.Acknowledged);

    /// <summary>Simulated time now.</summary>
    public Instant SimulatedNow => _simulatedStart + (Duration.FromTimeSpan(_time.GetElapsedTime(_startTimestamp)) * _options.Speed);

    /// <summary>Raised before each move of the world with the simulated time: whoever steers the simulation does it here.</summary>
    public event Action<Instant>? Ticked;

    /// <summary>Does something to the world at its next inner step.</summary>
    /// <exception cref="ArgumentException">It names a cabinet or probe that there isn't.</exception>
    public void Do(Happening happening)
    {
        lock (_gate)
        {
            _world.Do(happening);
        }
    }

    /// <summary>Runs until stopped.</summary>
    public async Task RunAsync(CancellationToken stop)
    {
        var links = _links.Distinct().Select(link => link.RunAsync(stop)).ToArray();
        try
        {
            while (!stop.IsCancellationRequested)
            {
                Move();
                await Task.Delay(_options.Tick, _time, stop);
            }
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            // The way in which it is meant to end.
        }
        await Task.WhenAll(links);
    }

    private void Move()
    {
        var now = SimulatedNow;
        Ticked?.Invoke(now);
        var sink = new Sink(this);
        lock (_gate)
        {
            // One step behind the clock, so that no sample comes from the future.
            _world.Advance(now - _world.Step, ref sink);
        }
    }

    private void Send(in ProbeSample sample)
    {
        var probe = _world.Probes[sample.Probe];
        // A probe lives in real time however fast the simulation runs: its clock shows the real moment of the sample.
        var simulated = Instant.FromUnixTimeMilliseconds(sample.AtMs) - _simulatedStart;
        var probeTime = _wallStart + (simulated / _options.Speed) + Duration.FromMilliseconds(probe.ClockAheadMs);
        _links[sample.Probe].Send(new Outgoing(
            _topics[sample.Probe, (int)sample.Measured], PayloadWriter.Write(sample, probe.Payload, probeTime)));
    }

    private string TopicOf(ProbeSpec probe, string quantity) => _options.Topic
        .Replace("{incubator}", probe.Cabinet, StringComparison.Ordinal)
        .Replace("{probe}", probe.Key, StringComparison.Ordinal)
        .Replace("{quantity}", quantity, StringComparison.Ordinal);

    private readonly struct Sink(MqttProbeFleet fleet) : ISampleSink
    {
        public void Take(in ProbeSample sample) => fleet.Send(sample);
    }
}
