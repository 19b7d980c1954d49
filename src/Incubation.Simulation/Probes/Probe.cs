using Incubation.Simulation.Air;
using Incubation.Simulation.Cabinets;

namespace Incubation.Simulation.Probes;

/// <summary>One probe in motion: follows what it is in with its lag, and measures when it is due.</summary>
internal sealed class Probe
{
    private readonly int _index;
    private readonly ulong _noiseSeed, _humiditySeed, _lossSeed;
    private readonly double _take;
    private double _before, _after, _vapourBefore, _vapourAfter;
    private long _dueMs, _intervalMs;
    private ulong _count;

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
        _take = spec.ResponseSeconds > 0 ? 1 - Math.Exp(-stepSeconds / spec.ResponseSeconds) : 1;
        Phase = Chance.Uniform(own, 4);
        Every(spec.IntervalMs, startMs);
    }

    public ProbeSpec Spec { get; }
    public ProbePlace Place { get; set; }
    public ProbeFault Fault { get; set; }
    public long FaultUntilMs { get; set; } = long.MaxValue;
    private double Phase { get; }

    /// <summary>Measures every so many ms from now on, first within one interval, at a moment of its own.</summary>
    public void Every(long intervalMs, long fromMs)
    {
        _intervalMs = intervalMs;
        _dueMs = fromMs + (long)(Phase * intervalMs);
    }

    public void Begin(in CabinetState state)
    {
        _before = _after = Surrounding(state);
        _vapourBefore = _vapourAfter = state.Vapour;
    }

    /// <summary>Follows its surroundings over one inner step.</summary>
    public void Step(in CabinetState state)
    {
        _before = _after;
        _after += (Surrounding(state) - _after) * _take;
        if (Spec.Humidity)
        {
            _vapourBefore = _vapourAfter;
            // Out of the cabinet there is nearly nothing of the cabinet's vapour: a third is what a closed room of 22 °C has.
            _vapourAfter += ((Place == ProbePlace.Room ? state.Vapour / 3 : state.Vapour) - _vapourAfter) * _take;
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
                _ => Rounded(celsius + Spec.Offset + (Spec.Noise * Chance.Bell(_noiseSeed, number)), Spec.Step),
            };
            sink.Take(new ProbeSample(_index, Measured.Temperature, shown, at, at + Spec.ClockAheadMs));
            if (Spec.Humidity)
            {
                var vapour = _vapourBefore + ((_vapourAfter - _vapourBefore) * part);
                var humidity = Fault == ProbeFault.Unreadable ? double.NaN : ShownHumidity(MoistAir.RelativeHumidity(vapour, celsius), number);
                sink.Take(new ProbeSample(_index, Measured.Humidity, humidity, at, at + Spec.ClockAheadMs));
            }
        }
    }

    private double Surrounding(in CabinetState state) => Place switch
    {
        ProbePlace.Air => state.Air + (state.Layer * Spec.Height),
        ProbePlace.Tub => ((state.Air + state.Mass) / 2) + (state.Layer * Spec.Height * 0.5),
        ProbePlace.BetweenEggs => state.Mass,
        _ => state.Room,
    };

    private double ShownHumidity(double humidity, ulong number)
    {
        // Near saturation such sensors read too high, and wet ones past 100 (common practice, no source: 1–3 %RH above 90 %RH).
        var over = Math.Max(0, humidity - 90) * 0.25;
        var shown = humidity + over + Spec.HumidityOffset + (Spec.HumidityNoise * Chance.Bell(_humiditySeed, number));
        return Rounded(Math.Clamp(shown, 0, 104), Spec.HumidityStep);
    }

    // To 4 digits as well, which takes the binary dust off 315 × 0.1 and leaves 0.0625 whole.
    private static double Rounded(double value, double step) => Math.Round(step > 0 ? Math.Round(value / step) * step : value, 4);
}
