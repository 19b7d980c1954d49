using Incubation.Simulation.Air;
using Incubation.Simulation.Cabinets;

namespace Incubation.Simulation.Probes;

/// <summary>One probe in motion: follows what it is in with its lag, and measures when it is due.</summary>
internal sealed class Probe
{
    private readonly int _index;
    private readonly ulong _noiseSeed, _humiditySeed, _lossSeed, _leapSeed;
    private readonly double _take;
    private double _before, _after, _vapourBefore, _vapourAfter;
    private long _dueMs, _intervalMs;
    private ulong _count;
    private double _shown = double.NaN, _shownHumidity = double.NaN;
    private long _driftSinceMs;
    private double _drifted;

    public Probe(ProbeSpec spec, int index, ulong seed, double stepSeconds, long startMs)
    {
        Spec = spec;
        Place = spec.Place;
        Fault = spec.StartsSilent ? ProbeFault.Silent : ProbeFault.None;
        _index = index;
        var own = Chance.SeedOf(seed, spec.Key);
        _noiseSeed = Chance.Bits(own, 1);
        _humiditySeed = Chance.Bits(own, 2);
        _lossSeed = Chance.Bits(own, 3);
        _leapSeed = Chance.Bits(own, 5);
        _take = spec.ResponseSeconds > 0 ? 1 - Math.Exp(-stepSeconds / spec.ResponseSeconds) : 1;
        Phase = Chance.Uniform(own, 4);
        Every(spec.IntervalMs, startMs);
    }

    public ProbeSpec Spec { get; }
    public ProbePlace Place { get; set; }
    public ProbeFault Fault { get; set; }
    public long FaultUntilMs { get; set; } = long.MaxValue;

    /// <summary>Noise besides its own, standard deviation, °C; humidity gets ten times as much, %RH.</summary>
    public double MoreNoise { get; set; }

    /// <summary>What it shows more from day to day since it began to drift, °C; 0 for a probe that keeps what it is.</summary>
    public double DriftPerDay { get; private set; }

    private double Phase { get; }

    /// <summary>Measures every so many ms from now on, first within one interval, at a moment of its own.</summary>
    public void Every(long intervalMs, long fromMs)
    {
        _intervalMs = intervalMs;
        _dueMs = fromMs + (long)(Phase * intervalMs);
    }

    /// <summary>From now on it drifts so fast; what it had drifted stays.</summary>
    public void Drift(double perDay, long atMs)
    {
        _drifted = Drifted(atMs);
        (DriftPerDay, _driftSinceMs) = (perDay, atMs);
    }

    public void Begin(in CabinetState state)
    {
        _before = _after = Surrounding(state);
        _vapourBefore = _vapourAfter = Vapour(state);
    }

    /// <summary>Follows its surroundings over one inner step.</summary>
    public void Step(in CabinetState state)
    {
        _before = _after;
        _after += (Surrounding(state) - _after) * _take;
        if (Spec.Humidity)
        {
            _vapourBefore = _vapourAfter;
            _vapourAfter += (Vapour(state) - _vapourAfter) * _take;
        }
    }

    /// <summary>Measures all that is due in [from, from + step).</summary>
    public void Measure<TSink>(long fromMs, long stepMs, bool roomPowered, ref TSink sink)
        where TSink : ISampleSink
    {
        while (_dueMs < fromMs + stepMs)
        {
            var at = _dueMs;
            _dueMs += _intervalMs;
            var number = _count++;
            if (Fault != ProbeFault.None && at >= FaultUntilMs)
            {
                Fault = ProbeFault.None;
            }
            var lost = Spec.LostShare > 0 && Chance.Uniform(_lossSeed, number) < Spec.LostShare;
            if (lost || Fault == ProbeFault.Silent || (Spec.OnMains && !roomPowered))
            {
                continue;
            }
            var part = (at - fromMs) / (double)stepMs;
            var celsius = _before + ((_after - _before) * part);
            var shown = Fault switch
            {
                ProbeFault.Minus127 => -127,
                ProbeFault.EightyFive => 85,
                ProbeFault.Unreadable => double.NaN,
                ProbeFault.Stuck when !double.IsNaN(_shown) => _shown,
                _ => Rounded(celsius + Spec.Offset + Drifted(at) + Leap(number) + (Noise * Chance.Bell(_noiseSeed, number)), Spec.Step),
            };
            if (Fault is ProbeFault.None or ProbeFault.Stuck)
            {
                _shown = shown;
            }
            sink.Take(new ProbeSample(_index, Measured.Temperature, shown, at, at + Spec.ClockAheadMs));
            if (Spec.Humidity)
            {
                var vapour = _vapourBefore + ((_vapourAfter - _vapourBefore) * part);
                var humidity = Fault switch
                {
                    ProbeFault.Unreadable => double.NaN,
                    ProbeFault.Stuck when !double.IsNaN(_shownHumidity) => _shownHumidity,
                    _ => ShownHumidity(MoistAir.RelativeHumidity(vapour, celsius), number),
                };
                if (Fault is ProbeFault.None or ProbeFault.Stuck)
                {
                    _shownHumidity = humidity;
                }
                sink.Take(new ProbeSample(_index, Measured.Humidity, humidity, at, at + Spec.ClockAheadMs));
            }
        }
    }

    private double Noise => MoreNoise == 0 ? Spec.Noise : Math.Sqrt((Spec.Noise * Spec.Noise) + (MoreNoise * MoreNoise));

    private double Drifted(long atMs) => _drifted + (DriftPerDay == 0 ? 0 : DriftPerDay * (atMs - _driftSinceMs) / 86_400_000);

    // Far off one way or the other, and never two in a row.
    private double Leap(ulong number) => Fault == ProbeFault.Loose && IsLeap(number) && !IsLeap(number - 1)
        ? (Chance.Uniform(_leapSeed, number) < 0.01 ? -9 : 11) : 0;

    private bool IsLeap(ulong number) => Chance.Uniform(_leapSeed, number) < 0.02;

    // Out of the cabinet there is nearly nothing of the cabinet's vapour: a third is what a closed room of 22 °C has. Under a tub's lid
    // the air over wet substrate is nearer to saturation than the cabinet's.
    private double Vapour(in CabinetState state) => Place switch
    {
        ProbePlace.Room => state.Vapour / 3,
        ProbePlace.Tub or ProbePlace.BetweenEggs when Spec.TubClosed > 0
            => state.Vapour + (Spec.TubClosed * (MoistAir.SaturationPressure(Surrounding(state)) - state.Vapour)),
        _ => state.Vapour,
    };

    private double Surrounding(in CabinetState state) => Place switch
    {
        ProbePlace.Air => state.Air + (state.Layer * Spec.Height),
        ProbePlace.Tub => ((state.Air + state.Mass) / 2) + (state.Layer * Spec.Height * 0.5),
        ProbePlace.BetweenEggs => state.Mass,
        _ => state.Room,
    };

    private double HumidityNoise => MoreNoise == 0 ? Spec.HumidityNoise : Math.Sqrt((Spec.HumidityNoise * Spec.HumidityNoise) + (100 * MoreNoise * MoreNoise));

    private double ShownHumidity(double humidity, ulong number)
    {
        // Near saturation such sensors read too high, and wet ones past 100 (common practice, no source: 1–3 %RH above 90 %RH).
        var over = Math.Max(0, humidity - 90) * 0.25;
        var shown = humidity + over + Spec.HumidityOffset + (HumidityNoise * Chance.Bell(_humiditySeed, number));
        return Rounded(Math.Clamp(shown, 0, 104), Spec.HumidityStep);
    }

    // To 4 digits as well, which takes the binary dust off 315 × 0.1 and leaves 0.0625 whole.
    private static double Rounded(double value, double step) => Math.Round(step > 0 ? Math.Round(value / step) * step : value, 4);
}
