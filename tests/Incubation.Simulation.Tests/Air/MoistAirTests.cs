using Incubation.Simulation.Air;
using Xunit;

namespace Incubation.Simulation.Tests.Air;

public sealed class MoistAirTests
{
    // 6.112 hPa at 0 °C is the formula's own constant (WMO-No. 8, Annex 4.B); 2.3388 kPa at 20 °C and 4.2470 kPa at 30 °C are steam-table
    // values (IAPWS-IF97, from memory), which the Magnus form without enhancement factor meets within 0.4 %.
    [Theory]
    [InlineData(0, 6.112, 1e-9)]
    [InlineData(20, 23.388, 0.004)]
    [InlineData(30, 42.470, 0.004)]
    public void SaturationPressure_at_a_tabulated_temperature_meets_the_table(double celsius, double hectopascal, double within)
        => Assert.InRange(MoistAir.SaturationPressure(celsius) / hectopascal, 1 - within, 1 + within);

    [Fact]
    public void RelativeHumidity_of_saturated_air_is_100() => Assert.Equal(100, MoistAir.RelativeHumidity(MoistAir.SaturationPressure(31.5), 31.5), 9);

    // 32.9 g/m³ at 31.5 °C: derived from the ideal gas law with the same formula.
    [Fact]
    public void GramsPerCubicMetre_of_saturated_air_at_31_5_is_about_32_9()
        => Assert.InRange(MoistAir.GramsPerCubicMetre(MoistAir.SaturationPressure(31.5), 31.5), 32.7, 33.1);
}
