using System.Globalization;
using Incubation.Core.Readings;
using Incubation.Storage.Influx;
using Incubation.Storage.Tests.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Storage.Tests.Influx;

/// <summary>The lines as they go over the wire; a change here would make a second kind of point beside the first.</summary>
public sealed class PointLineTests
{
    private static readonly Instant At = Instant.FromUtc(2026, 11, 25, 3, 4, 5) + Duration.FromMilliseconds(678);

    [Theory]
    [InlineData("hazel-air", 31.4, ReadingMarks.None, "reading,probe=hazel-air,quantity=temperature value=31.4,good=1,marks=0 1795575845678")]
    [InlineData("hazel-air", 31, ReadingMarks.ArrivalTime, "reading,probe=hazel-air,quantity=temperature value=31,good=1,marks=4 1795575845678")]
    [InlineData("hazel-air", -127, ReadingMarks.Faulty, "reading,probe=hazel-air,quantity=temperature value=-127,good=0,marks=2 1795575845678")]
    [InlineData("hazel-air", 31.5, ReadingMarks.Retained, "reading,probe=hazel-air,quantity=temperature value=31.5,good=0,marks=16 1795575845678")]
    [InlineData("shelf 2,left=x", 1e-9, ReadingMarks.Saturated, @"reading,probe=shelf\ 2\,left\=x,quantity=temperature value=1E-09,good=1,marks=1 1795575845678")]
    [InlineData("Süd\\\n", 0.30000000000000004, ReadingMarks.None, "reading,probe=Süd__,quantity=temperature value=0.30000000000000004,good=1,marks=0 1795575845678")]
    public void Of_is_one_line_of_line_protocol(string probe, double value, ReadingMarks marks, string line)
        => Assert.Equal(line, PointLine.Of(new Reading(Some.Series(probe), value, At, At + Duration.FromSeconds(1), marks)));

    [Fact]
    public void Of_is_the_same_in_every_culture()
    {
        CultureInfo before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
            Assert.Contains(" value=31.5,good=1,", PointLine.Of(Some.Reading(0, 31.5)), StringComparison.Ordinal);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Fact]
    public void Of_a_time_before_1970_is_a_negative_number()
        => Assert.EndsWith(" -1", PointLine.Of(Some.Reading() with { At = Instant.FromUnixTimeMilliseconds(-1) }), StringComparison.Ordinal);
}
