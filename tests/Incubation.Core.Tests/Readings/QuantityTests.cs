using System.Text;
using CsCheck;
using Incubation.Core.Readings;
using Xunit;

namespace Incubation.Core.Tests.Readings;

public sealed class QuantityTests
{
    [Theory]
    [InlineData("temperature", QuantityKind.Temperature, "Cel")]
    [InlineData("room-temperature", QuantityKind.Temperature, "Cel")]
    [InlineData("humidity", QuantityKind.Humidity, "%RH")]
    [InlineData("room-humidity", QuantityKind.Humidity, "%RH")]
    [InlineData("battery", QuantityKind.Charge, "%")]
    [InlineData("battery-voltage", QuantityKind.Voltage, "V")]
    [InlineData("signal", QuantityKind.Signal, "dBm")]
    [InlineData("signal-quality", QuantityKind.Quality, "%")]
    [InlineData("door", QuantityKind.Contact, "")]
    [InlineData("lid-door", QuantityKind.Contact, "")]
    [InlineData("co2", QuantityKind.Other, "")]
    [InlineData("undoor", QuantityKind.Other, "")]
    [InlineData("temperatures", QuantityKind.Other, "")]
    [InlineData("quality", QuantityKind.Other, "")]
    public void Kind_is_told_by_the_last_word_of_the_name(string name, QuantityKind kind, string unit) =>
        Assert.Equal((kind, unit), (new Quantity(name).Kind, new Quantity(name).Unit));

    [Fact]
    public void Kind_of_no_quantity_is_other() => Assert.Equal((QuantityKind.Other, ""), (default(Quantity).Kind, default(Quantity).Unit));

    [Theory]
    [InlineData("battery", "", 87, "battery", 87)]
    [InlineData("battery", "%", 87, "battery", 87)]
    [InlineData("battery", "%EL", 87, "battery", 87)]
    [InlineData("battery", "V", 3.71, "battery-voltage", 3.71)]
    [InlineData("battery", "mV", 3710, "battery-voltage", 3.71)]
    [InlineData("battery-voltage", "mV", 3710, "battery-voltage", 3.71)]
    [InlineData("battery-voltage", "V", 3.71, "battery-voltage", 3.71)]
    [InlineData("signal", "dBm", -67, "signal", -67)]
    [InlineData("signal", "dBW", -97, "signal", -67)]
    [InlineData("signal", "%", 88, "signal-quality", 88)]
    [InlineData("signal-quality", "%", 88, "signal-quality", 88)]
    [InlineData("door", "/", 1, "door", 1)]
    [InlineData("door", "open", 1, "door", 1)]
    [InlineData("door", "closed", 1, "door", 0)]
    [InlineData("room-temperature", "[degF]", 70.7, "room-temperature", 21.5)]
    [InlineData("temperature", "Ohm", 112.2151228, "temperature", 31.4)]
    [InlineData("temperature", "Ohm", 1122.151228, "temperature", 31.4)]
    [InlineData("light", "lx", -4000, "light", -4000)]
    public void TryConvert_unit_of_a_quantity_gives_the_held_value_and_what_it_is_of(string quantity, string unit, double value, string heldOf, double held)
    {
        Quantity what = new(quantity);

        Assert.True(Units.TryConvert(ref what, Encoding.UTF8.GetBytes(unit), value, out double converted));
        Assert.Equal((heldOf, held), (what.Name, Math.Round(converted, 6)));
    }

    [Theory]
    [InlineData("battery", "Cel")]
    [InlineData("battery-voltage", "%")]
    [InlineData("signal", "V")]
    [InlineData("signal-quality", "dBm")]
    [InlineData("door", "%")]
    [InlineData("humidity", "/")]
    [InlineData("room-temperature", "%RH")]
    public void TryConvert_unit_of_another_quantity_is_none(string quantity, string unit)
    {
        Quantity what = new(quantity);

        Assert.False(Units.TryConvert(ref what, Encoding.UTF8.GetBytes(unit), 1, out _));
        Assert.Equal(quantity, what.Name);
    }

    [Theory]
    [InlineData("battery", 110, ValueVerdict.Good)]
    [InlineData("battery", 110.1, ValueVerdict.TooHigh)]
    [InlineData("battery", -0.1, ValueVerdict.TooLow)]
    [InlineData("battery-voltage", 60, ValueVerdict.Good)]
    [InlineData("battery-voltage", 60.1, ValueVerdict.TooHigh)]
    [InlineData("signal", -150, ValueVerdict.Good)]
    [InlineData("signal", 21, ValueVerdict.TooHigh)]
    [InlineData("signal-quality", 101, ValueVerdict.TooHigh)]
    [InlineData("door", 1, ValueVerdict.Good)]
    [InlineData("door", 0.5, ValueVerdict.TooHigh)]
    [InlineData("door", -1, ValueVerdict.TooLow)]
    [InlineData("room-temperature", -127, ValueVerdict.Faulty)]
    [InlineData("room-temperature", double.PositiveInfinity, ValueVerdict.TooHigh)]
    [InlineData("room-temperature", double.NegativeInfinity, ValueVerdict.TooLow)]
    public void Judge_every_quantity_has_the_range_that_it_can_be_in(string quantity, double held, ValueVerdict verdict) =>
        Assert.Equal(verdict, ReadingJudge.Judge(new Quantity(quantity), held, null));

    [Fact]
    public void Celsius_is_the_inverse_of_the_resistance_over_the_whole_range() =>
        Gen.Double[-200, 850].Sample(celsius =>
        {
            double ohms = PlatinumResistance.Ohms(celsius);
            Assert.Equal(celsius, PlatinumResistance.Celsius(ohms), 1e-7);
            if (ohms * 10 >= 400)
            {
                Assert.Equal(celsius, PlatinumResistance.Celsius(ohms * 10), 1e-7);
            }
        });

    [Theory]
    [InlineData(0)]
    [InlineData(-5)]
    [InlineData(18.5)]
    [InlineData(double.MinValue)]
    public void Celsius_of_a_short_is_below_every_temperature(double ohms) => Assert.Equal(double.NegativeInfinity, PlatinumResistance.Celsius(ohms));

    [Theory]
    [InlineData(390.5)]
    [InlineData(3905)]
    [InlineData(double.MaxValue)]
    public void Celsius_of_a_broken_wire_is_above_every_temperature(double ohms) => Assert.Equal(double.PositiveInfinity, PlatinumResistance.Celsius(ohms));
}
