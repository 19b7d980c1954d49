using System.Text;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Readings;

/// <summary>Readings as comma-separated values.</summary>
public sealed class CsvReadingsTests
{
    private static readonly Instant At = Instant.FromUtc(2026, 11, 25, 3, 4, 5);

    [Fact]
    public void Append_reading_gives_both_values_and_the_marks()
    {
        Correction correction = new([new(At - Duration.FromDays(1), 1, 0.5)]);

        Assert.Equal(
            "2026-11-25T03:04:05Z,hazel-air,temperature,Cel,31.25,31.75,arrival-time clock-off\r\n",
            Text(new SeriesKey("hazel-air", Quantity.Temperature), 31.25, ReadingMarks.ArrivalTime | ReadingMarks.ClockOff, correction));
    }

    [Fact]
    public void Append_fault_of_the_probe_is_left_as_it_is()
    {
        Correction correction = new([new(At - Duration.FromDays(1), 1, 0.5)]);

        Assert.EndsWith(",-127,-127,faulty\r\n", Text(new SeriesKey("p", Quantity.Temperature), -127, ReadingMarks.Faulty, correction), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("=1+1", "'=1+1")]
    [InlineData("+a", "'+a")]
    [InlineData("-a", "'-a")]
    [InlineData("@a", "'@a")]
    [InlineData("\ta", "'\ta")]
    [InlineData("=a,\"b\"", "\"'=a,\"\"b\"\"\"")]
    [InlineData("a=1", "a=1")]
    [InlineData("", "")]
    public void Foreign_text_that_a_spreadsheet_would_carry_out_is_told_to_be_text(string text, string expected)
    {
        StringBuilder to = new();
        CsvText.Foreign(to, text);

        Assert.Equal(expected, to.ToString());
    }

    [Fact]
    public void Append_milliseconds_and_the_value_come_back_exactly()
    {
        string[] fields = CsvLine(0.1 + 0.2);

        Assert.Equal("2026-11-25T03:04:05.007Z", fields[0]);
        Assert.Equal(0.1 + 0.2, double.Parse(fields[4], System.Globalization.CultureInfo.InvariantCulture));
    }

    private static string[] CsvLine(double value)
    {
        StringBuilder to = new();
        CsvReadings.Append(
            to, new Reading(new SeriesKey("p", Quantity.Humidity), value, At + Duration.FromMilliseconds(7), At, ReadingMarks.None), Correction.None);
        return to.ToString().Split(',');
    }

    private static string Text(SeriesKey series, double value, ReadingMarks marks, Correction correction)
    {
        StringBuilder to = new();
        CsvReadings.Append(to, new Reading(series, value, At, At, marks), correction);
        return to.ToString();
    }
}
