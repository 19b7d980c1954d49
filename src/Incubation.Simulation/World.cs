using Incubation.Simulation.Cabinets;
using Incubation.Simulation.Probes;
using Incubation.Simulation.Rooms;
using Incubation.Simulation.Scenarios;
using NodaTime;

namespace Incubation.Simulation;

/// <summary>
/// A room of incubators with their probes, advanced on a fixed inner grid, so that how often anybody looks changes nothing.
/// Not safe for several threads at once.
/// </summary>
public sealed class World
{
    private readonly Room _room;
    private readonly Cabinet[] _cabinets;
    private readonly Probe[] _probes;
    private readonly int[] _cabinetOf;
    private readonly Dictionary<string, int> _cabinetIndex, _probeIndex;
    private readonly Scenario _scenario;
    private readonly Queue<Happening> _now = new();
    private readonly long _startMs, _stepMs;
    private long _steps;
    private int _nextEntry;

    /// <summary>Builds the world as it is at the start.</summary>
    /// <exception cref="ArgumentException">A key is doubled or unknown, or a step or interval is out of its range.</exception>
    public World(WorldSpec spec)
    {
        ArgumentNullException.ThrowIfNull(spec);
        if (spec.StepSeconds is not (>= 0.1 and <= 300))
        {
            throw new ArgumentException("The inner step must be 0.1 to 300 seconds.", nameof(spec));
        }
        _stepMs = (long)Math.Round(spec.StepSeconds * 1000);
        var seconds = _stepMs / 1000.0;
        _startMs = spec.Start.ToUnixTimeMilliseconds();
        _scenario = spec.Scenario;
        _room = new Room(spec.Room, Chance.SeedOf(spec.Seed, "room"), seconds);
        _room.Step(_startMs);
        _cabinets = [.. spec.Cabinets.Select(c => new Cabinet(c, seconds))];
        _cabinetIndex = IndexOf(spec.Cabinets.Select(c => c.Key), "cabinet");
        _probeIndex = IndexOf(spec.Probes.Select(p => p.Key), "probe");
        Probes = [.. spec.Probes];
        _probes = new Probe[Probes.Count];
        _cabinetOf = new int[Probes.Count];
        for (var i = 0; i < _probes.Length; i++)
        {
            if (Probes[i].IntervalMs <= 0)
            {
                throw new ArgumentException($"Probe '{Probes[i].Key}' must measure at an interval of more than 0 ms.", nameof(spec));
            }
            _cabinetOf[i] = Find(_cabinetIndex, Probes[i].Cabinet, "cabinet");
            _probes[i] = new Probe(Probes[i], i, spec.Seed, seconds, _startMs);
        }
        foreach (var cabinet in _cabinets)
        {
            cabinet.Begin(_room);
        }
        for (var i = 0; i < _probes.Length; i++)
        {
            _probes[i].Begin(_cabinets[_cabinetOf[i]].After);
        }
    }

    /// <summary>The probes, by the index that samples carry.</summary>
    public IReadOnlyList<ProbeSpec> Probes { get; }

    /// <summary>How far it has come: the end of the last whole inner step.</summary>
    public Instant Now => Instant.FromUnixTimeMilliseconds(NowMs);

    /// <summary>The inner step.</summary>
    public Duration Step => Duration.FromMilliseconds(_stepMs);

    /// <summary>The room's temperature in the last step, °C.</summary>
    public double RoomTemperature => _room.Temperature;

    private long NowMs => _startMs + (_steps * _stepMs);

    /// <summary>State of a cabinet at <see cref="Now"/>.</summary>
    public CabinetState State(string cabinet) => Cabinet(cabinet).After;

    /// <summary>Mean heater power of the last step, W.</summary>
    public double HeaterWatts(string cabinet) => Cabinet(cabinet).Watts;

    /// <summary>Water left in substrate and trays, g.</summary>
    public double WaterGrams(string cabinet) => Cabinet(cabinet).Moisture.Water;

    /// <summary>Does something at the beginning of the next inner step.</summary>
    /// <exception cref="ArgumentException">It names a cabinet or probe that there isn't.</exception>
    public void Do(Happening happening)
    {
        ArgumentNullException.ThrowIfNull(happening);
        Happenings.Check(happening, key => Find(_cabinetIndex, key, "cabinet"), key => Find(_probeIndex, key, "probe"));
        _now.Enqueue(happening);
    }

    /// <summary>From now on every probe measures at this interval.</summary>
    public void MeasureEvery(Duration interval)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(interval, Duration.FromMilliseconds(1));
        foreach (var probe in _probes)
        {
            probe.Every((long)interval.TotalMilliseconds, NowMs);
        }
    }

    /// <summary>
    /// Goes on to the first inner step that ends at or after <paramref name="to"/>, and hands out every sample taken on the way. Samples
    /// may be up to one inner step later than <paramref name="to"/>; none is handed out twice.
    /// </summary>
    public void Advance<TSink>(Instant to, ref TSink sink)
        where TSink : ISampleSink
    {
        var toMs = to.ToUnixTimeMilliseconds();
        while (NowMs < toMs)
        {
            var from = NowMs;
            Befall(from);
            _room.Step(from);
            foreach (var cabinet in _cabinets)
            {
                cabinet.Step(from, _room, _room.Powered);
            }
            for (var i = 0; i < _probes.Length; i++)
            {
                _probes[i].Step(_cabinets[_cabinetOf[i]].After);
                _probes[i].Measure(from, _stepMs, _room.Powered, ref sink);
            }
            _steps++;
        }
    }

    /// <summary>Goes on without looking at any probe.</summary>
    public void Advance(Instant to)
    {
        var nobody = default(Nobody);
        Advance(to, ref nobody);
    }

    private void Befall(long fromMs)
    {
        while (_nextEntry < _scenario.Entries.Length && _scenario.Entries[_nextEntry].At.ToUnixTimeMilliseconds() <= fromMs)
        {
            Apply(_scenario.Entries[_nextEntry++].Happening, fromMs);
        }
        while (_now.TryDequeue(out var happening))
        {
            Apply(happening, fromMs);
        }
    }

    private void Apply(Happening happening, long atMs) => Happenings.Apply(happening, atMs, _room, Cabinet, ProbeOf);

    private Cabinet Cabinet(string key) => _cabinets[Find(_cabinetIndex, key, "cabinet")];

    private Probe ProbeOf(string key) => _probes[Find(_probeIndex, key, "probe")];

    private static int Find(Dictionary<string, int> index, string key, string what)
        => index.TryGetValue(key, out var found) ? found : throw new ArgumentException($"There is no {what} '{key}' in this world.");

    private static Dictionary<string, int> IndexOf(IEnumerable<string> keys, string what)
    {
        var index = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var key in keys)
        {
            if (!index.TryAdd(key, index.Count))
            {
                throw new ArgumentException($"Two of this world's {what}s are called '{key}'.");
            }
        }
        return index;
    }

    private readonly struct Nobody : ISampleSink
    {
        public void Take(in ProbeSample sample) { }
    }
}
