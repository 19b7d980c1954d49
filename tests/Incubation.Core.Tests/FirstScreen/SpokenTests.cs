using System.Globalization;
using CsCheck;
using Incubation.Core.FirstScreen;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.FirstScreen;

public sealed class SpokenTests
{
    // NIST SP 811 (2008), appendix B.8: t/°F = 1.8 t/°C + 32; 100 °C = 212 °F and 0 °C = 32 °F follow.
    [Theory]
    [InlineData(100, "212.0 °F")]
    [InlineData(0, "32.0 °F")]
    [InlineData(-40, "-40.0 °F")]
    [InlineData(31.4, "88.5 °F")]
    public void Value_in_fahrenheit(double celsius, string expected)
        => Assert.Equal(expected, Spoken.Value(celsius, Quantity.Temperature, TemperatureScale.Fahrenheit));

    [Fact]
    public void Difference_in_fahrenheit_has_no_offset()
        => Assert.Equal("1.8 °F", Spoken.Difference(-1, Quantity.Temperature, TemperatureScale.Fahrenheit));

    [Fact]
    public void Value_of_humidity_is_never_turned_into_fahrenheit()
        => Assert.Equal("84.5 %RH", Spoken.Value(84.5, Quantity.Humidity, TemperatureScale.Fahrenheit));

    [Fact]
    public void Value_has_a_decimal_point_in_every_culture()
    {
        CultureInfo before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
            Assert.Equal("31.4 °C", Spoken.Value(31.4, Quantity.Temperature, TemperatureScale.Celsius));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Theory]
    [InlineData(-5, "less than a minute")]
    [InlineData(59, "less than a minute")]
    [InlineData(60, "1 minute")]
    [InlineData(12 * 60, "12 minutes")]
    [InlineData(3600, "1 hour")]
    [InlineData(3900, "1 hour 5 minutes")]
    [InlineData(48 * 3600, "2 days")]
    public void Length_as_people_say_it(int seconds, string expected) => Assert.Equal(expected, Spoken.Length(Duration.FromSeconds(seconds)));

    [Theory]
    [InlineData("Hazel", "Hazel")]
    [InlineData("Hazel,Rowan", "Hazel and Rowan")]
    [InlineData("Hazel,Rowan,Alder", "Hazel, Rowan and Alder")]
    public void List_as_people_say_it(string names, string expected) => Assert.Equal(expected, Spoken.List(names.Split(',')));
}

public sealed class TrendTests
{
    [Fact]
    public void PerHour_of_a_straight_line_is_its_slope()
        => Gen.Select(Gen.Double[-5, 5], Gen.Double[20, 40], Gen.Int[5, 60]).Sample((slope, start, count) =>
            Assert.Equal(slope, Trend.PerHour([.. Enumerable.Range(0, count).Select(i => (i / (count - 1.0), start + (slope * i / (count - 1.0))))])!.Value, 1e-8));

    // Sen (1968): the estimate breaks down only beyond 1 - 1/sqrt(2), about 29 %, of wild values. 10 of 40 are a quarter.
    [Fact]
    public void PerHour_does_not_follow_a_quarter_of_wild_readings()
    {
        // The wild ones come late, so that a least-squares line would follow them.
        (double, double)[] points = [.. Enumerable.Range(0, 40).Select(i => (i / 40.0, i >= 20 && i % 2 == 1 ? 80.0 : 31 + (0.5 * i / 40)))];
        Assert.True(LeastSquares(points) > 20);
        Assert.InRange(Trend.PerHour(points)!.Value, 0.4, 5);
    }

    [Fact]
    public void PerHour_of_too_few_or_too_short_is_not_known()
    {
        Assert.Null(Trend.PerHour([]));
        Assert.Null(Trend.PerHour([(0, 1), (0.2, 2), (0.5, 3), (1, 4)]));
        Assert.Null(Trend.PerHour([.. Enumerable.Range(0, 30).Select(i => (i / 100.0, 31.0))]));
    }

    [Fact]
    public void PerHour_of_readings_at_one_moment_is_not_infinite()
        => Assert.Equal(0, Trend.PerHour([(0, 31), (0, 31), (0.5, 31), (0.5, 31), (1, 31)]));

    private static double LeastSquares((double X, double Y)[] points)
    {
        double x = points.Average(p => p.X);
        double y = points.Average(p => p.Y);
        return points.Sum(p => (p.X - x) * (p.Y - y)) / points.Sum(p => (p.X - x) * (p.X - x));
    }
}
