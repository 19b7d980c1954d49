using Incubation.Simulation;
using Incubation.Simulation.Air;
using Incubation.Simulation.Embryos;
using NodaTime;

namespace Incubation.Service.Demo;

/// <summary>What it was truly like at the eggs of each cabinet, by ten minutes: what the embryos live by, and no probe shows.</summary>
internal sealed class DemoTrack
{
    public static readonly Duration Step = Duration.FromMinutes(10);
    private readonly Dictionary<string, List<(Instant At, EggClimate Climate)>> _samples = new(StringComparer.Ordinal);

    /// <summary>Writes down how it is in these cabinets now.</summary>
    public void Note(World world, IEnumerable<string> cabinets)
    {
        foreach (var cabinet in cabinets)
        {
            var state = world.State(cabinet);
            var humidity = Math.Min(100, MoistAir.RelativeHumidity(state.Vapour, state.Mass));
            Of(cabinet).Add((world.Now, new EggClimate(state.Mass, humidity)));
        }
    }

    /// <summary>This, and what followed on it.</summary>
    public DemoTrack Then(DemoTrack next)
    {
        var joined = new DemoTrack();
        foreach (var (cabinet, samples) in _samples.Concat(next._samples))
        {
            joined.Of(cabinet).AddRange(samples);
        }
        return joined;
    }

    /// <summary>Stretches of one climate each over [from, to), without holes; before the first sample it was as at the first.</summary>
    public IEnumerable<(Instant From, Duration Time, EggClimate Climate)> Over(string cabinet, Instant from, Instant to)
    {
        var samples = Of(cabinet);
        var index = Math.Max(0, LastUpTo(samples, from));
        while (from < to)
        {
            var end = index + 1 < samples.Count ? Instant.Min(to, samples[index + 1].At) : to;
            if (end > from)
            {
                yield return (from, end - from, samples[index].Climate);
                from = end;
            }
            index++;
        }
    }

    private static int LastUpTo(List<(Instant At, EggClimate Climate)> samples, Instant at)
    {
        var (low, high) = (0, samples.Count);
        while (low < high)
        {
            var middle = (low + high) / 2;
            (low, high) = samples[middle].At <= at ? (middle + 1, high) : (low, middle);
        }
        return low - 1;
    }

    private List<(Instant At, EggClimate Climate)> Of(string cabinet)
    {
        if (!_samples.TryGetValue(cabinet, out var samples))
        {
            _samples[cabinet] = samples = [];
        }
        return samples;
    }
}
