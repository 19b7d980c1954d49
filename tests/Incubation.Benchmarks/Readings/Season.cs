using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Benchmarks.Readings;

/// <summary>
/// What the probes of a facility send over a season: every 10 s, sampled up to 40 ms early or late by the probe's own clock, heard a few
/// milliseconds later and now and then much later; the air wanders, swings with its heater every seven minutes or so, and falls when somebody
/// opens the door every few days; the probe adds noise and rounds to 0.01 °C. Committed before anything was measured on it.
/// </summary>
internal static class Season
{
    public const int StepMs = 10_000;
    public const int ReadingsADay = 86_400_000 / StepMs;

    public static readonly Instant Start = Instant.FromUtc(2026, 3, 1, 0, 0);

    public static SeriesKey Series(int probe) => new($"bench-{probe:000}", Quantity.Temperature);

    /// <summary>Readings of one probe in time order, the same for the same arguments.</summary>
    public static IEnumerable<Reading> Of(int probe, int days, int stepMs = StepMs)
    {
        Random chance = new(7_919 * (probe + 1));
        SeriesKey series = Series(probe);
        double wander = 0, phase = chance.NextDouble() * 2 * Math.PI, door = 0;
        double minutes = stepMs / 60_000.0;
        long count = days * 86_400_000L / stepMs;
        for (long i = 0; i < count; i++)
        {
            wander = 0.995 * wander + 0.01 * Normal(chance);
            phase += 2 * Math.PI * minutes / 7 * (1 + 0.02 * Normal(chance));
            door = chance.NextDouble() < minutes / (3 * 24 * 60) ? -1.5 - chance.NextDouble() : door * Math.Exp(-minutes / 8);
            double value = 31.4 + wander + 0.12 * Math.Sin(phase) + door + 0.006 * Normal(chance);
            Instant at = Start + Duration.FromMilliseconds(i * stepMs + chance.Next(-40, 41));
            double delay = 2 - 4 * Math.Log(1 - chance.NextDouble()) + (chance.Next(200) == 0 ? chance.Next(100, 400) : 0);
            yield return new Reading(series, Math.Round(value, 2), at, at + Duration.FromMilliseconds((long)delay), ReadingMarks.None);
        }
    }

    /// <summary>All probes' readings together, in the order in which they would come.</summary>
    public static IEnumerable<Reading> Together(int probes, int days, int stepMs = StepMs)
    {
        IEnumerator<Reading>[] all = [.. Enumerable.Range(0, probes).Select(probe => Of(probe, days, stepMs).GetEnumerator())];
        while (all.All(one => one.MoveNext()))
        {
            foreach (IEnumerator<Reading> one in all)
            {
                yield return one.Current;
            }
        }
    }

    // G. E. P. Box and M. E. Muller, 1958.
    private static double Normal(Random chance) =>
        Math.Sqrt(-2 * Math.Log(1 - chance.NextDouble())) * Math.Cos(2 * Math.PI * chance.NextDouble());
}
