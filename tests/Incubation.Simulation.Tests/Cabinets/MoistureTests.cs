using CsCheck;
using Incubation.Simulation.Air;
using Incubation.Simulation.Probes;
using Incubation.Simulation.Scenarios;
using NodaTime;
using Xunit;

namespace Incubation.Simulation.Tests.Cabinets;

public sealed class MoistureTests
{
    private static ProbeSpec Humid => Some.PerfectProbe() with { Humidity = true };

    private static List<double> Humidity(List<ProbeSample> samples)
        => [.. samples.Where(s => s.Measured == Measured.Humidity).Select(s => s.Value)];

    [Fact]
    public void Air_never_holds_more_than_saturation()
        => Gen.Select(Gen.Double[0, 60], Gen.Double[0, 40], Gen.Double[0, 3]).Sample((grams, evaporation, leakage) =>
        {
            var cabinet = Some.Cabinet() with { Moisture = new() { EvaporationPerHour = evaporation, LeakagePerHour = leakage } };
            var world = new World(Some.World(cabinet).With(Duration.FromMinutes(3), new Misted("box", grams)));
            for (var minute = 1; minute < 90; minute++)
            {
                world.Advance(Some.Start + Duration.FromMinutes(minute));
                var state = world.State("box");
                Assert.InRange(MoistAir.RelativeHumidity(state.Vapour, state.Air), 0, 100 + 1e-9);
            }
        }, iter: 100);

    [Fact]
    public void Misting_raises_humidity_and_it_comes_back_within_hours()
    {
        var humidity = Humidity(Some.Run(
            Some.World(Some.Cabinet(), Humid).With(Duration.FromHours(6), new Misted("box", 3)), Duration.FromHours(18)));
        int misted = 6 * 720, later = humidity.Count - 1;
        var peak = humidity.Skip(misted).Max();
        Assert.True(peak > humidity[misted - 1] + 3, $"{humidity[misted - 1]} → {peak}");
        Assert.InRange(humidity[later], humidity[misted - 1] - 1.5, humidity[misted - 1] + 1.5);
    }

    [Fact]
    public void A_cabinet_that_nobody_waters_dries_out()
    {
        var cabinet = Some.Cabinet() with { Moisture = new() { WaterGrams = 30, DryBelowGrams = 20 } };
        var world = new World(Some.World(cabinet));
        world.Advance(Some.Start + Duration.FromDays(20));
        Assert.InRange(world.WaterGrams("box"), 0, 5);
        var state = world.State("box");
        Assert.InRange(MoistAir.RelativeHumidity(state.Vapour, state.Air), 20, 45);
    }

    [Fact]
    public void A_soaked_sensor_reads_past_100()
    {
        var cabinet = Some.Cabinet() with { Moisture = new() { EvaporationPerHour = 60, LeakagePerHour = 0.1 } };
        var humidity = Humidity(Some.Run(Some.World(cabinet, Humid), Duration.FromHours(6)));
        Assert.InRange(humidity[^1], 100, 104);
    }
}
