using Incubation.Core.Readings;
using Incubation.Simulation.Cabinets;
using Incubation.Simulation.Probes;
using Incubation.Simulation.Scenarios;
using NodaTime;

namespace Incubation.Simulation.Tests.Probes;

/// <summary>Something that was found: when, and when it cleared.</summary>
internal sealed record Finding(Trouble Trouble, Instant FoundAt)
{
    public Instant? ClearedAt { get; set; }
}

/// <summary>A simulated facility that lives as one does, watched for trouble as the service watches it.</summary>
internal sealed class WatchedRoom : ISampleSink
{
    private static readonly Duration Look = Duration.FromMinutes(20);

    private readonly World _world;
    private readonly Dictionary<(string Probe, Quantity Quantity), TroubleTrack> _tracks = [];
    private readonly Dictionary<(string Probe, Quantity Quantity), List<(Instant Hour, double Mean)>> _first = [];
    private readonly Dictionary<(string, Quantity), IReadOnlyList<Trouble>> _standing = [];

    public WatchedRoom(WorldSpec spec)
    {
        _world = new World(spec);
        foreach (ProbeSpec probe in spec.Probes)
        {
            foreach (Quantity quantity in probe.Humidity ? new[] { Quantity.Temperature, Quantity.Humidity } : [Quantity.Temperature])
            {
                _tracks[(probe.Key, quantity)] = new TroubleTrack(new SeriesKey(probe.Key, quantity));
            }
        }
    }

    public List<Finding> Findings { get; } = [];

    public static Instant Start { get; } = Instant.FromUtc(2026, 3, 2, 0, 0);

    /// <summary>Four incubators, each in another way hard to judge.</summary>
    public static WorldSpec Facility(ulong seed, Scenario scenario, long intervalMs = 10_000) => new()
    {
        Seed = seed,
        Start = Start,
        StepSeconds = 10,
        Scenario = scenario,
        Cabinets =
        [
            // Two shelves, proportional.
            new() { Key = "oak", MassHeatCapacity = 34_000, Layering = 0.012, StillAirLayering = 4 },
            // A sawtooth.
            new() { Key = "elm", Thermostat = new() { Kind = ThermostatKind.OnOff, Width = 0.3, SensorSeconds = 45 } },
            // So well insulated and steady that a 0.1 °C probe stands still for days.
            new() { Key = "yew", WallLoss = 0.15, DoorLoss = 5, HeaterWatts = 12, MassHeatCapacity = 80_000, Thermostat = new() { Width = 0.2, DutyAtSetpoint = 0.12 } },
            // A small quick box.
            new() { Key = "fir", AirHeatCapacity = 2_500, MassHeatCapacity = 12_000, AirToMass = 3, WallLoss = 1, DoorLoss = 18, HeaterWatts = 40, Thermostat = new() { DutyAtSetpoint = 0.2, SensorSeconds = 15 }, Moisture = new() { LeakagePerHour = 6, WaterGrams = 20_000 } },
        ],
        Probes =
        [
            new() { Key = "oak-upper", Cabinet = "oak", Height = 1, Humidity = true, Step = 0.01, IntervalMs = intervalMs },
            new() { Key = "oak-lower", Cabinet = "oak", Height = -1, Humidity = true, Step = 0.01, IntervalMs = intervalMs },
            new() { Key = "oak-middle", Cabinet = "oak", Step = 0.0625, Offset = 0.2, IntervalMs = intervalMs },
            new() { Key = "elm-air", Cabinet = "elm", Step = 0.1, Noise = 0.04, Humidity = true, IntervalMs = intervalMs },
            new() { Key = "elm-eggs", Cabinet = "elm", Place = ProbePlace.BetweenEggs, ResponseSeconds = 90, IntervalMs = intervalMs },
            new() { Key = "yew-air", Cabinet = "yew", Step = 0.1, Noise = 0.004, IntervalMs = intervalMs },
            new() { Key = "yew-eggs", Cabinet = "yew", Place = ProbePlace.BetweenEggs, Step = 0.1, Noise = 0.004, ResponseSeconds = 60, IntervalMs = intervalMs },
            new() { Key = "fir-tub", Cabinet = "fir", Place = ProbePlace.Tub, Humidity = true, TubClosed = 0.7, Step = 0.01, ResponseSeconds = 45, IntervalMs = intervalMs },
            new() { Key = "fir-air", Cabinet = "fir", Humidity = true, Step = 0.0625, ResponseSeconds = 8, IntervalMs = intervalMs },
        ],
    };

    /// <summary>What happens in a healthy facility in so many days: rounds, spray, a fan, the mains, a set point, warming eggs, probes that stutter.</summary>
    public static Scenario Life(int days, ulong seed)
    {
        var chance = new Random((int)seed);
        Scenario scenario = Scenario.Empty;
        for (int day = 0; day < days; day++)
        {
            Instant morning = Start + Duration.FromDays(day);
            foreach (string cabinet in new[] { "oak", "elm", "yew", "fir" })
            {
                scenario = scenario.With(morning + Duration.FromMinutes(chance.Next(420, 540)), new DoorOpened(cabinet, chance.Next(10, 60)));
                if (day % 3 == 0)
                {
                    // Candling: minutes, not seconds.
                    scenario = scenario.With(morning + Duration.FromMinutes(chance.Next(1_080, 1_200)), new DoorOpened(cabinet, chance.Next(60, 400)));
                }

                scenario = scenario.With(morning, new EggWarmthBecame(cabinet, 2.0 * day / days));
            }

            scenario = scenario
                .With(morning + Duration.FromMinutes(chance.Next(1_100, 1_200)), new Misted("oak", 2))
                .With(morning + Duration.FromMinutes(chance.Next(600)), new WaterAdded("fir", 20))
                .With(morning + Duration.FromMinutes(chance.Next(1_400)), new ProbeBecame("oak-lower", ProbeFault.Silent, chance.Next(60, 3_600)))
                .With(morning + Duration.FromMinutes(chance.Next(1_400)), new ProbeBecame("yew-air", ProbeFault.Minus127, 20));
        }

        Instant fan = Start + Duration.FromHours(24 * days * chance.NextDouble());
        Instant cut = Start + Duration.FromHours(24 * days * chance.NextDouble());
        return scenario
            .With(fan, new FanBecame("oak", false)).With(fan + Duration.FromHours(3), new FanBecame("oak", true))
            .With(cut, new PowerBecame(null, false)).With(cut + Duration.FromMinutes(50), new PowerBecame(null, true))
            .With(Start + Duration.FromHours(24 * days * chance.NextDouble()), new SetpointBecame("fir", 31))
            .With(Start + Duration.FromHours(24 * days * chance.NextDouble()), new SetpointBecame("yew", 31.2));
    }

    public void Run(Duration time)
    {
        for (Instant at = Start + Look; at <= Start + time; at += Look)
        {
            WatchedRoom self = this;
            _world.Advance(at, ref self);
            KeepFirstHours(at);
            Judge(at);
        }
    }

    public void Take(in ProbeSample sample)
    {
        Quantity quantity = sample.Measured == Measured.Temperature ? Quantity.Temperature : Quantity.Humidity;
        var key = new SeriesKey(_world.Probes[sample.Probe].Key, quantity);
        Instant at = Instant.FromUnixTimeMilliseconds(sample.AtMs);
        ReadingMarks marks = double.IsNaN(sample.Value) || sample.Value is -127 or 85 ? ReadingMarks.Faulty : ReadingMarks.None;
        _tracks[(key.Probe, quantity)].Add(new Reading(key, sample.Value, at, at, marks));
    }

    private void Judge(Instant now)
    {
        foreach (var group in _world.Probes.GroupBy(p => p.Cabinet))
        {
            foreach (Quantity quantity in new[] { Quantity.Temperature, Quantity.Humidity })
            {
                TroubleProbe[] probes =
                [
                    .. group.Where(p => _tracks.ContainsKey((p.Key, quantity)))
                        .Select(p => new TroubleProbe(p.Key, p.Key, p.Place is ProbePlace.Air ? null : "tub", _tracks[(p.Key, quantity)])),
                ];
                IReadOnlyList<Trouble> before = _standing.GetValueOrDefault((group.Key, quantity), []);
                IReadOnlyList<Trouble> after = TroubleJudge.Judge(probes, before, Past, now);
                _standing[(group.Key, quantity)] = after;
                foreach (Trouble gone in before.Where(b => !after.Any(a => Same(a, b))))
                {
                    Findings.Last(f => Same(f.Trouble, gone)).ClearedAt = now;
                }

                Findings.AddRange(after.Where(a => !before.Any(b => Same(a, b))).Select(a => new Finding(a, now)));
            }
        }
    }

    private static bool Same(Trouble a, Trouble b) => a.Kind == b.Kind && a.Series == b.Series && a.Against == b.Against;

    private PairPast? Past(TroubleProbe a, TroubleProbe b)
    {
        var second = _first.GetValueOrDefault((b.Probe, b.Track.Series.Quantity), []).ToDictionary(h => h.Hour, h => h.Mean);
        return PairPast.Of(_first.GetValueOrDefault((a.Probe, a.Track.Series.Quantity), [])
            .Where(h => second.ContainsKey(h.Hour)).Select(h => h.Mean - second[h.Hour]));
    }

    // What the service reads from the store: the first three days.
    private void KeepFirstHours(Instant now)
    {
        if (now - Start > Duration.FromHours(72) || now != TroubleTrack.HourOf(now))
        {
            return;
        }

        foreach ((var key, TroubleTrack track) in _tracks)
        {
            if (track.Hour(now - Duration.FromHours(1)) is { } sum)
            {
                (_first.TryGetValue(key, out var list) ? list : _first[key] = []).Add((now - Duration.FromHours(1), sum.Mean));
            }
        }
    }
}
