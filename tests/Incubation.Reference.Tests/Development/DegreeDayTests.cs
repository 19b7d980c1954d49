using Incubation.Core.Development;
using Incubation.Reference.Tests.Sources;
using NodaTime;
using Xunit;

namespace Incubation.Reference.Tests.Development;

public sealed class DegreeDayTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 6, 1, 0, 0);

    private static Trace Points(params (double Hour, double Value)[] points) => Trace.FromReadings(
        points.Select(point => new TracePoint(Start + Duration.FromHours(point.Hour), point.Value)), Duration.FromDays(2));

    // A day from one minimum over the maximum to the next minimum along half cosines, sampled every three minutes.
    private static Trace Sine(double low, double high, double nextLow) => Points([.. Enumerable.Range(0, 481).Select(i =>
    {
        double hour = i / 20.0;
        double floor = hour <= 12 ? low : nextLow;
        return (hour, ((high + floor) / 2) - ((high - floor) / 2 * Math.Cos(2 * Math.PI * hour / 24)));
    })]);

    [Theory]
    [Source("Zalom, F. G. et al.", 1983, "Degree-days: the calculation and use of heat units in pest management, UC DANR Leaflet 21373",
        "Table 7, lower 55 °F, upper 90 °F, horizontal cut-off", Remark = "one printed double-triangle value is a believed misprint and left out")]
    [InlineData(96.0, 110.0, 91.0, 35.0, 35.0, 35.0, 35.0)]
    [InlineData(91.0, 105.0, 96.0, 35.0, 35.0, 35.0, 35.0)]
    [InlineData(45.0, 54.0, 38.0, 0.0, 0.0, 0.0, 0.0)]
    [InlineData(38.0, 50.0, 45.0, 0.0, 0.0, 0.0, 0.0)]
    [InlineData(60.0, 80.0, 75.0, 15.0, 18.75, 15.0, 18.75)]
    [InlineData(50.0, 82.0, 45.0, 11.39, 10.62, 11.85, 11.31)]
    [InlineData(45.0, 70.0, 50.0, 4.5, 5.06, 5.31, 5.70)]
    [InlineData(75.0, 95.0, 60.0, 29.38, 25.76, 28.91, 25.30)]
    [InlineData(60.0, 100.0, 75.0, 23.75, null, 22.82, 26.26)]
    [InlineData(50.0, 101.0, 48.0, 19.56, 19.19, 18.95, 18.69)]
    public void Days_of_the_printed_table_come_out(
        double low, double high, double nextLow, double triangle, double? doubleTriangle, double sine, double doubleSine)
    {
        // Straight lines are the triangle methods; a finely sampled sine is the sine methods.
        Assert.Equal(triangle, DegreeDays.Sum(Points((0, low), (12, high), (24, low)), 55, 90), 0.0101);
        Assert.Equal(sine, DegreeDays.Sum(Sine(low, high, low), 55, 90), 0.0101);
        Assert.Equal(doubleSine, DegreeDays.Sum(Sine(low, high, nextLow), 55, 90), 0.0101);
        if (doubleTriangle is { } twice)
        {
            Assert.Equal(twice, DegreeDays.Sum(Points((0, low), (12, high), (24, nextLow)), 55, 90), 0.0101);
        }
    }

    [Theory]
    [Source("McMaster, G. S. and Wilhelm, W. W.", 1997, "Growing degree-days: one equation, two interpretations", "Table 1, base 0 °C",
        Remark = "days that do not cross the base, where both readings of the method agree with the area")]
    [InlineData(20, 10, 15)]
    [InlineData(10, 1, 5.5)]
    [InlineData(6, 0, 3)]
    [InlineData(10, 5, 7.5)]
    [InlineData(15, 2, 8.5)]
    [InlineData(-2, -7, 0)]
    [InlineData(-5, -10, 0)]
    public void Days_that_do_not_cross_the_base_have_their_printed_degree_days(double high, double low, double degreeDays) =>
        Assert.Equal(degreeDays, DegreeDays.Sum(Points((0, low), (12, high), (24, low)), 0), 1e-9);

    [Theory]
    [Source("University of California IPM", 2016, "Degree-day calculator, station Ojai", "1 to 10 January 2016, lower 12 °C, upper 33 °C")]
    [InlineData(7.8, 19.4, 4.4, 2.36, 2.09, 2.72)]
    [InlineData(4.4, 22.2, 3.3, 2.92, 2.84, 3.51)]
    [InlineData(10.0, 21.7, 6.1, 4.02, 3.52, 4.21)]
    [InlineData(15.0, 23.9, 16.1, 7.45, 7.73, 7.45)]
    [InlineData(10.6, 32.2, 10.0, 9.45, 9.32, 9.55)]
    public void Days_of_a_weather_station_come_out(double low, double high, double nextLow, double triangle, double doubleTriangle, double sine)
    {
        Assert.Equal(triangle, DegreeDays.Sum(Points((0, low), (12, high), (24, low)), 12, 33), 0.0101);
        Assert.Equal(doubleTriangle, DegreeDays.Sum(Points((0, low), (12, high), (24, nextLow)), 12, 33), 0.0101);
        Assert.Equal(sine, DegreeDays.Sum(Sine(low, high, low), 12, 33), 0.0101);
    }

    [Theory]
    [Source("Lyons, A.", 2023, "degday 0.4.0 (R package), README", "Esparto 2020, lower 55 °F, upper 93.9 °F, single triangle and sine")]
    [InlineData(38, 55, 0, 0)]
    [InlineData(36, 67, 2.32, 3.31)]
    [InlineData(33, 59, 0.31, 0.68)]
    [InlineData(37, 59, 0.36, 0.74)]
    [InlineData(38, 63, 1.28, 1.99)]
    [InlineData(36, 58, 0.2, 0.48)]
    public void Days_that_barely_cross_the_base_come_out(double low, double high, double triangle, double sine)
    {
        Assert.Equal(triangle, DegreeDays.Sum(Points((0, low), (12, high), (24, low)), 55, 93.9), 0.0061);
        Assert.Equal(sine, DegreeDays.Sum(Sine(low, high, low), 55, 93.9), 0.0061);
    }

    [Fact]
    [NoSource(NoSourceAttribute.FromMemory, Remark = "the definition: area of a line through 29, 30, 33, 31, 29 °C at 0, 6, 12, 18, 24 h above 20 °C")]
    public void A_sampled_day_has_the_area_under_its_line()
    {
        Assert.Equal(10.75, DegreeDays.Sum(Points((0, 29), (6, 30), (12, 33), (18, 31), (24, 29)), 20, 36), 1e-9);
        Assert.Equal(11.5, DegreeDays.Sum(Points((0, 31.5), (24, 31.5)), 20, 36), 1e-9);
    }

    [Fact]
    [Source("Howell, J. F. and Neven, L. G.", 2000, "Physiological development time and zero development temperature of the codling moth",
        "2100, 6100 and 5800 degree-hours for egg, larva and pupa")]
    public void Degree_hours_become_degree_days()
    {
        Assert.Equal(87.5, DegreeDays.FromDegreeHours(2_100), 1e-9);
        Assert.Equal(254.2, DegreeDays.FromDegreeHours(6_100), 0.05);
        Assert.Equal(241.7, DegreeDays.FromDegreeHours(5_800), 0.05);
    }

    [Fact]
    [Source("University of California IPM", 2020, "A simple way to calculate degree-days (citrus)", "mean 64 °F, lower threshold 53 °F: 11")]
    public void Degree_days_of_Fahrenheit_become_those_of_Celsius()
    {
        double celsius = DegreeDays.Sum(Points((0, (64 - 32) / 1.8), (24, (64 - 32) / 1.8)), (53 - 32) / 1.8);

        Assert.Equal(DegreeDays.FromFahrenheit(11), celsius, 1e-9);
    }
}
