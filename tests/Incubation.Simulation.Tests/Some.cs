using Incubation.Simulation.Cabinets;
using Incubation.Simulation.Probes;
using Incubation.Simulation.Rooms;
using Incubation.Simulation.Scenarios;
using NodaTime;

namespace Incubation.Simulation.Tests;

/// <summary>Some world, of which a test cares for one thing.</summary>
internal static class Some
{
    public static Instant Start { get; } = Instant.FromUtc(2026, 6, 1, 0, 0);

    /// <summary>A room that is always at the same temperature.</summary>
    public static RoomSpec StillRoom(double celsius) => new() { Mean = celsius, DaySwing = 0, Weather = 0 };

    public static CabinetSpec Cabinet(string key = "box") => new() { Key = key };

    /// <summary>A probe that shows what is, at once.</summary>
    public static ProbeSpec PerfectProbe(string key = "probe", string cabinet = "box") => new()
    {
        Key = key,
        Cabinet = cabinet,
        ResponseSeconds = 0,
        Noise = 0,
        HumidityNoise = 0,
        Step = 0,
        HumidityStep = 0,
        IntervalMs = 5_000,
    };

    public static WorldSpec World(CabinetSpec cabinet, ProbeSpec? probe = null, double room = 22, ulong seed = 7) => new()
    {
        Seed = seed,
        Start = Start,
        Room = StillRoom(room),
        Cabinets = [cabinet],
        Probes = [probe ?? PerfectProbe()],
    };

    public static List<ProbeSample> Run(WorldSpec spec, Duration time)
    {
        var sink = new Collected([]);
        new World(spec).Advance(spec.Start + time, ref sink);
        return sink.Samples;
    }

    public static WorldSpec With(this WorldSpec spec, Duration after, Happening happening)
        => spec with { Scenario = spec.Scenario.With(spec.Start + after, happening) };

    public static double MinutesFromStart(this ProbeSample sample) => (sample.AtMs - Start.ToUnixTimeMilliseconds()) / 60_000.0;
}

internal readonly struct Collected(List<ProbeSample> samples) : ISampleSink
{
    public List<ProbeSample> Samples => samples;

    public void Take(in ProbeSample sample) => samples.Add(sample);
}
