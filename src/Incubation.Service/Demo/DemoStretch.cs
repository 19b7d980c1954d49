using Incubation.Core.Readings;
using Incubation.Simulation;
using Incubation.Simulation.Probes;
using NodaTime;

namespace Incubation.Service.Demo;

/// <summary>A stretch of history: what the placed probes measured, by five minutes, and what it was like at the eggs.</summary>
/// <param name="Readings">In order of time.</param>
/// <param name="Track">The climate.</param>
internal sealed record DemoStretch(IReadOnlyList<Reading> Readings, DemoTrack Track)
{
    private static readonly Duration ProbeStep = Duration.FromMinutes(5);

    /// <summary>Runs a world to <paramref name="until"/>.</summary>
    public static DemoStretch Run(World world, IReadOnlyList<string> cabinets, Instant until)
    {
        world.MeasureEvery(ProbeStep);
        var track = new DemoTrack();
        var series = world.Probes.Select(probe => (
            new SeriesKey(probe.Key, Quantity.Temperature), new SeriesKey(probe.Key, Quantity.Humidity),
            probe.Payload == PayloadStyle.JsonWithTime ? ReadingMarks.None : ReadingMarks.ArrivalTime,
            probe.Key != DemoFacility.NotYetPlaced)).ToArray();
        var kept = new Kept(series, until, new List<Reading>(40_000));
        while (world.Now < until)
        {
            track.Note(world, cabinets);
            world.Advance(Instant.Min(until, world.Now + DemoTrack.Step), ref kept);
        }
        // Probes within one inner step don't come in order; those of one instant stay as they came.
        return new DemoStretch([.. kept.Readings.OrderBy(reading => reading.At)], track);
    }

    private readonly struct Kept(
        (SeriesKey Temperature, SeriesKey Humidity, ReadingMarks Marks, bool Placed)[] series, Instant until, List<Reading> readings) : ISampleSink
    {
        public List<Reading> Readings => readings;

        public void Take(in ProbeSample sample)
        {
            var at = Instant.FromUnixTimeMilliseconds(sample.AtMs);
            var (temperature, humidity, marks, placed) = series[sample.Probe];
            if (at >= until || !placed || double.IsNaN(sample.Value))
            {
                return;
            }
            readings.Add(sample.Measured == Measured.Temperature
                ? new Reading(temperature, sample.Value, at, at, marks)
                : new Reading(humidity, sample.Value, at, at, marks | (sample.Value >= 100 ? ReadingMarks.Saturated : ReadingMarks.None)));
        }
    }
}
