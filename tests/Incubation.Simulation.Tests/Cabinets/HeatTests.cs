using CsCheck;
using Incubation.Simulation.Cabinets;
using Incubation.Simulation.Scenarios;
using NodaTime;
using Xunit;

namespace Incubation.Simulation.Tests.Cabinets;

public sealed class HeatTests
{
    private static readonly Gen<CabinetSpec> AnyCabinet =
        from airCapacity in Gen.Double[1_000, 30_000]
        from massCapacity in Gen.Double[2_000, 200_000]
        from coupling in Gen.Double[0.5, 20]
        from loss in Gen.Double[0.5, 10]
        from watts in Gen.Double[20, 200]
        from start in Gen.Double[15, 45]
        select new CabinetSpec
        {
            Key = "box",
            AirHeatCapacity = airCapacity,
            MassHeatCapacity = massCapacity,
            AirToMass = coupling,
            WallLoss = loss,
            HeaterWatts = watts,
            StartsAt = start,
        };

    [Fact]
    public void Without_heat_air_and_tubs_go_to_the_room_and_never_turn_back()
        => AnyCabinet.Sample(cabinet =>
        {
            const double Room = 21;
            var world = new World(Some.World(cabinet, room: Room).With(Duration.Zero, new HeaterBecame("box", HeaterFault.Dead)));
            double air = Math.Abs(cabinet.StartsAt!.Value - Room), mass = air;
            for (var minute = 1; minute <= 600; minute++)
            {
                world.Advance(Some.Start + Duration.FromMinutes(minute));
                var state = world.State("box");
                double airNow = Math.Abs(state.Air - Room), massNow = Math.Abs(state.Mass - Room);
                Assert.True(airNow <= air + 1e-9 && massNow <= mass + 1e-9, $"minute {minute}: air {air} → {airNow}, tubs {mass} → {massNow}");
                (air, mass) = (airNow, massNow);
            }
        }, iter: 60);

    [Fact]
    public void With_steady_heat_it_comes_to_rest_where_heat_lost_is_heat_given()
        => AnyCabinet.Select(Gen.Double[0, 2]).Sample((cabinet, eggs) =>
        {
            var spec = cabinet with { EggWatts = eggs };
            var world = new World((Some.World(spec, room: 21) with { StepSeconds = 300 })
                .With(Duration.Zero, new HeaterBecame("box", HeaterFault.StuckOn)));
            // Thirty times the slowest time constant that two heat stores in a row can have: e⁻³⁰ of the way is left.
            var slowest = ((spec.AirHeatCapacity + spec.MassHeatCapacity) / spec.WallLoss) + (spec.MassHeatCapacity / spec.AirToMass);
            world.Advance(Some.Start + Duration.FromSeconds(30 * slowest));
            var air = 21 + ((spec.HeaterWatts + eggs) / spec.WallLoss);
            Assert.Equal(air, world.State("box").Air, 1e-6);
            Assert.Equal(air + (eggs / spec.AirToMass), world.State("box").Mass, 1e-6);
        }, iter: 60);

    [Fact]
    public void Heat_given_is_heat_lost_plus_heat_kept()
    {
        var spec = Some.Cabinet() with { StartsAt = 25 };
        var world = new World(Some.World(spec) with { StepSeconds = 1 });
        double given = 0, lost = 0;
        for (var second = 1; second <= 7_200; second++)
        {
            var before = world.State("box");
            world.Advance(Some.Start + Duration.FromSeconds(second));
            given += world.HeaterWatts("box");
            lost += spec.WallLoss * (((before.Air + world.State("box").Air) / 2) - 22);
        }
        var state = world.State("box");
        var kept = (spec.AirHeatCapacity * (state.Air - 25)) + (spec.MassHeatCapacity * (state.Mass - 25));
        Assert.InRange((given - lost) / kept, 0.999, 1.001);
    }

    [Fact]
    public void The_inner_step_does_not_change_how_a_cabinet_cools()
    {
        double AfterAnHour(double step)
        {
            var world = new World((Some.World(Some.Cabinet()) with { StepSeconds = step })
                .With(Duration.Zero, new HeaterBecame("box", HeaterFault.Dead)));
            world.Advance(Some.Start + Duration.FromHours(1));
            return world.State("box").Air;
        }

        Assert.Equal(AfterAnHour(1), AfterAnHour(60), 9);
    }

    [Theory]
    [InlineData(ThermostatKind.OnOff, 0.3)]
    [InlineData(ThermostatKind.Proportional, 1)]
    public void A_sound_thermostat_keeps_the_air_near_its_setpoint(ThermostatKind kind, double width)
    {
        var spec = Some.Cabinet() with { Thermostat = new() { Kind = kind, Width = width, Setpoint = 31.5 } };
        var samples = Some.Run(Some.World(spec), Duration.FromDays(2));
        Assert.All(samples.Where(s => s.MinutesFromStart() > 120), s => Assert.InRange(s.Value, 30.7, 32.3));
    }

    [Fact]
    public void A_cut_out_holds_a_stuck_heater_near_its_limit()
    {
        var spec = Some.Cabinet() with { CutOutAt = 36 };
        var samples = Some.Run(Some.World(spec).With(Duration.FromMinutes(5), new HeaterBecame("box", HeaterFault.StuckOn)), Duration.FromHours(6));
        Assert.InRange(samples.Max(s => s.Value), 35.5, 36.5);
        Assert.InRange(samples.Where(s => s.MinutesFromStart() > 120).Min(s => s.Value), 33, 34.5);
    }
}
