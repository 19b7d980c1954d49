using Incubation.Core.Air;
using Incubation.Reference.Tests.Sources;
using Xunit;

namespace Incubation.Reference.Tests.Air;

/// <summary>The one vapour formula against published pressures, densities and dew points.</summary>
public sealed class VapourTests
{
    // A formula other than the one a figure was printed from may differ from it by this share between 0 and 60 °C.
    private const double Accepted = 0.0035;

    [Theory]
    [InlineData(0.01, 0.611657, 0.00012)]
    [InlineData(5, 0.87257, 0.00017)]
    [InlineData(20, 2.3393, 0.00047)]
    [InlineData(25, 3.1697, 0.00095)]
    [InlineData(26.85, 3.53658941, 0.0003)]
    [InlineData(35, 5.629, 0.0011)]
    [InlineData(45, 9.595, 0.0019)]
    [InlineData(50, 12.352, 0.0025)]
    [InlineData(60, 19.946, 0.004)]
    [Source("Wagner, W. and Pruss, A.", 2002, "The IAPWS formulation 1995 for the thermodynamic properties of ordinary water substance", "saturation table by temperature",
        Remark = "values from memory, recomputed with iapws 1.5.5")]
    [Source("IAPWS", 2012, "R7-97(2012): Revised release on the IAPWS industrial formulation 1997", "table 35, 300 K", Remark = "held to 0.3 Pa here: another formula")]
    [Source("ASHRAE", 2017, "Handbook Fundamentals", "chapter 1, table 3, 25 °C")]
    public void Saturation_pressure_is_the_published_one(double celsius, double kilopascal, double tolerance)
        => Assert.Equal(kilopascal, Vapour.SaturationPressure(celsius) / 10, tolerance);

    [Fact]
    [Source("Murphy, D. M. and Koop, T.", 2005, "Review of the vapour pressures of ice and supercooled water", "check value of equation 10 at 240 K", Remark = "value from memory, recomputed")]
    public void Saturation_pressure_below_zero_is_over_supercooled_water()
    {
        Assert.Equal(0.37667, Vapour.SaturationPressure(-33.15), 0.002);
        Assert.True(Vapour.SaturationPressure(-5) > 4.0174 * 1.04, "over ice it would be 4.0174 hPa");
    }

    [Theory]
    [InlineData(-20.0, 1.255042, 0.008)]
    [InlineData(-10.0, 2.86453, 0.008)]
    [InlineData(0.0, 6.112127, 0.0035)]
    [InlineData(10.0, 12.28199, 0.0035)]
    [InlineData(20.0, 23.39318, 0.0035)]
    [InlineData(30.0, 42.46971, 0.0035)]
    [InlineData(40.0, 73.84938, 0.0035)]
    [InlineData(50.0, 123.5195, 0.0045)]
    [InlineData(60.0, 199.4643, 0.008)]
    [Source("Wagner, W. and Pruss, A.", 2002, "The IAPWS formulation 1995 for the thermodynamic properties of ordinary water substance", "saturation pressure from 0.5 °C up, every fifth degree",
        Remark = "recomputed with iapws 1.5.5; the share accepted is the spread of the accepted formulas")]
    [Source("Murphy, D. M. and Koop, T.", 2005, "Review of the vapour pressures of ice and supercooled water", "equation 10, below", Remark = "recomputed")]
    public void Saturation_pressure_follows_the_reference_over_the_whole_range(double celsius, double hectopascal, double share)
        => Assert.Equal(hectopascal, Vapour.SaturationPressure(celsius), share * hectopascal);

    [Theory]
    [InlineData(11, 50, 0.9864607, 4.99636, 0.65637)]
    [InlineData(12, 70, 6.705048, 7.4465, 0.420777)]
    [InlineData(13, 80, 9.634936, 9.05516, 0.299562)]
    [InlineData(14, 90, 12.38732, 10.8339, 0.159867)]
    [InlineData(15, 99, 14.84406, 12.6677, 0.0170545)]
    [InlineData(18, 50, 7.434469, 7.66202, 1.03215)]
    [InlineData(19, 70, 13.41051, 11.3806, 0.659339)]
    [InlineData(20, 80, 16.44741, 13.7926, 0.467761)]
    [InlineData(21, 90, 19.29733, 16.4471, 0.248767)]
    [InlineData(22, 99, 21.83535, 19.168, 0.0264475)]
    [InlineData(25, 50, 13.86499, 11.4825, 1.58461)]
    [InlineData(26, 70, 20.10638, 17.0018, 1.00894)]
    [InlineData(27, 80, 23.25372, 20.5413, 0.713462)]
    [InlineData(28, 90, 26.20436, 24.4197, 0.378221)]
    [InlineData(29, 99, 28.82635, 28.3733, 0.0400829)]
    [InlineData(31, 20, 5.435263, 6.38735, 3.59675)]
    [InlineData(32, 50, 20.27795, 16.8463, 2.37927)]
    [InlineData(33, 70, 26.79261, 24.8715, 1.5103)]
    [InlineData(34, 80, 30.05383, 29.9634, 1.06478)]
    [InlineData(35, 90, 33.10839, 35.5197, 0.562782)]
    [InlineData(36, 99, 35.81707, 41.1548, 0.0594664)]
    [InlineData(38, 20, 11.15643, 9.21372, 5.30518)]
    [InlineData(39, 50, 26.67334, 24.2348, 3.49937)]
    [InlineData(40, 70, 33.46917, 35.6837, 2.21504)]
    [InlineData(41, 80, 36.84773, 42.8751, 1.55726)]
    [InlineData(42, 90, 40.00942, 50.6925, 0.820797)]
    [InlineData(43, 99, 42.80749, 58.5822, 0.0864918)]
    [InlineData(45, 20, 16.84336, 13.0484, 7.67458)]
    [Source("ASHRAE", 2017, "Handbook Fundamentals", "chapter 1, equations of humid air", Remark = "computed with psychrolib 1.1.1; dew points from IAPWS SR1-86, over water")]
    public void Dew_point_absolute_humidity_and_deficit_are_those_of_other_programs(
        double celsius, double humidity, double dewPoint, double gramsPerCubicMetre, double deficit)
    {
        Assert.Equal(dewPoint, Vapour.DewPoint(celsius, humidity)!.Value, 0.1);
        Assert.Equal(gramsPerCubicMetre, Vapour.AbsoluteHumidity(celsius, humidity), 0.007 * gramsPerCubicMetre);
        Assert.Equal(deficit, Vapour.Deficit(celsius, humidity), 0.005 * Vapour.SaturationPressure(celsius) / 10);
    }

    [Theory]
    [InlineData(5, 6.8022)]
    [InlineData(15, 12.841)]
    [InlineData(25, 23.0748)]
    [InlineData(35, 39.6743)]
    [InlineData(45, 65.5649)]
    [InlineData(55, 104.556)]
    [InlineData(20, 17.3140)]
    [Source("Wagner, W. and Pruss, A.", 2002, "The IAPWS formulation 1995 for the thermodynamic properties of ordinary water substance", "density of saturated vapour", Remark = "recomputed with iapws 1.5.5; within 0.7 %")]
    public void Saturated_absolute_humidity_is_the_density_of_saturated_vapour(double celsius, double gramsPerCubicMetre)
        => Assert.Equal(gramsPerCubicMetre, Vapour.AbsoluteHumidity(celsius, 100), 0.007 * gramsPerCubicMetre);

    [Fact]
    [Source("Allen, R. G., Pereira, L. S., Raes, D. and Smith, M.", 1998, "FAO Irrigation and Drainage Paper 56", "example 3", Remark = "from memory")]
    [Source("Bojanowski, J. S.", 2016, "sirad (R package)", "help page of es(), example", Remark = "year of the release from memory; by another formula, so within 0.35 %")]
    public void Worked_examples_come_out()
    {
        Near(3.075, 24.5);
        Near(1.705, 15);
        Assert.Equal(2.39, (Vapour.SaturationPressure(24.5) + Vapour.SaturationPressure(15)) / 20, 0.005);
        Assert.Equal(2.698918, (Vapour.SaturationPressure(25.1) + Vapour.SaturationPressure(19.1)) / 20, Accepted * 2.7);

        static void Near(double kilopascal, double celsius) => Assert.Equal(kilopascal, Vapour.SaturationPressure(celsius) / 10, Accepted * kilopascal);
    }

    [Fact]
    [Source("ASHRAE", 2017, "Handbook Fundamentals", "chapter 1, example 1: dry bulb 40 °C, wet bulb 20 °C", Remark = "dew point printed as 7 °C at 14 %RH; recomputed 7.43 °C at 13.98 %RH")]
    public void The_dew_point_of_the_handbooks_example_comes_out()
    {
        Assert.Equal(7, Vapour.DewPoint(40, 14)!.Value, 0.5);
        Assert.Equal(7.4336, Vapour.DewPoint(40, 13.979488584)!.Value, 0.1);
    }

    [Fact]
    [NoSource(NoSourceAttribute.FromMemory, Remark = "by definition: the dew point of saturated air is its temperature, and it lacks nothing")]
    public void Saturated_air_is_at_its_dew_point_and_takes_up_nothing()
    {
        Assert.Equal(31.5, Vapour.DewPoint(31.5, 100)!.Value, 1e-6);
        Assert.Equal(0, Vapour.Deficit(31.5, 100), 1e-6);
    }
}
