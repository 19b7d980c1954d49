using CsCheck;
using Incubation.Core.Air;
using Incubation.Core.FirstScreen;
using Xunit;

namespace Incubation.Core.Tests.Air;

public sealed class AirStateTests
{
    [Fact]
    public void At_31_5_degrees_and_95_per_cent_anything_0_9_degrees_cooler_drips()
    {
        AirState air = AirState.Of(31.5, 95)!;

        Assert.Equal(0.9, air.DripsWhenCoolerBy!.Value, 0.05);
        Assert.Equal(30.6, air.DewPoint!.Value, 0.05);
    }

    [Fact]
    public void The_doubt_of_the_sensor_is_carried_to_every_figure_and_holds_it()
    {
        Gen.Select(Gen.Double[-20, 60], Gen.Double[1, 104]).Sample((celsius, humidity) =>
        {
            AirState air = AirState.Of(celsius, humidity)!;
            Assert.InRange(air.DewPoint!.Value, air.DewPointSpread.Low ?? -100, air.DewPointSpread.High!.Value);
            Assert.InRange(air.AbsoluteHumidity, air.AbsoluteHumiditySpread.Low!.Value, air.AbsoluteHumiditySpread.High!.Value);
            Assert.InRange(air.Deficit, air.DeficitSpread.Low!.Value, air.DeficitSpread.High!.Value);
            Assert.True(air.HumiditySpread.High <= 100 && air.HumiditySpread.Low >= 0);
        });
    }

    [Fact]
    public void Doubt_grows_towards_saturation()
    {
        Assert.Equal([3, 3, 4, 5, 5], new[] { 40.0, 80, 90, 100, 104 }.Select(SensorDoubt.Humidity));
    }

    [Fact]
    public void A_saturated_hygrometer_counts_as_100_and_says_that_no_more_is_known()
    {
        AirState air = AirState.Of(31.5, 103, saturated: true)!;

        Assert.Equal((100, true), (air.Humidity, air.Saturated));
        Assert.Equal(31.5, air.DewPoint!.Value, 1e-6);
        Assert.Contains("saturated", AirWords.Say(air, null, TemperatureScale.Celsius), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(28, true)]
    [InlineData(30.6, null)]
    [InlineData(32.5, false)]
    public void Drips_is_told_only_as_far_as_the_sensors_can(double surface, bool? drips)
        => Assert.Equal(drips, AirState.Of(31.5, 95)!.Drips(surface));

    [Fact]
    public void Words_tell_what_drips_and_that_the_coolest_place_does()
    {
        string words = AirWords.Say(AirState.Of(31.5, 95)!, new Surface("Hazel lid", 28), TemperatureScale.Celsius);

        Assert.StartsWith("Anything at 30.6 °C or cooler drips", words, StringComparison.Ordinal);
        Assert.Contains("0.9 °C cooler than the air", words, StringComparison.Ordinal);
        Assert.Contains("At Hazel lid it is 28.0 °C: water condenses there.", words, StringComparison.Ordinal);
        Assert.Contains("1.6 °F cooler", AirWords.Say(AirState.Of(31.5, 95)!, null, TemperatureScale.Fahrenheit), StringComparison.Ordinal);
    }

    [Fact]
    public void Dry_air_has_no_dew_point_and_what_is_no_air_has_no_state()
    {
        Assert.Null(AirState.Of(30, 0)!.DewPoint);
        Assert.Contains("too dry", AirWords.Say(AirState.Of(30, -2)!, null, TemperatureScale.Celsius), StringComparison.Ordinal);
        Assert.Null(AirState.Of(double.NaN, 50));
        Assert.Null(AirState.Of(30, double.NaN));
        Assert.Null(AirState.Of(90, 50));
        Assert.Throws<ArgumentOutOfRangeException>(() => Vapour.SaturationPressure(81));
    }
}
