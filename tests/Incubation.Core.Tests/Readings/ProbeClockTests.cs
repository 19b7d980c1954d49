using System.Globalization;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Readings;

/// <summary>A wrong clock costs no reading.</summary>
public sealed class ProbeClockTests
{
    private static readonly Instant Arrived = Heard.Arrived;

    [Theory]
    [InlineData("2026-11-25T03:04:05Z", "2026-11-25T03:04:05Z")]
    [InlineData("2026-11-25T04:04:05.250+01:00", "2026-11-25T03:04:05.250Z")]
    [InlineData("2026-11-25T03:09:10Z", "2026-11-25T03:09:10Z")]
    [InlineData("2026-10-26T03:04:10Z", "2026-10-26T03:04:10Z")]
    [InlineData("2026-11-25T03:04:05.1239999Z", "2026-11-25T03:04:05.123Z")]
    public void Read_time_that_is_believed_is_the_readings_own(string sent, string at)
    {
        PayloadResult result = Read($"\"{sent}\"");

        Assert.Equal(DateTimeOffset.Parse(at, CultureInfo.InvariantCulture), result.Readings.Span[0].At.ToDateTimeOffset());
        Assert.Equal((ReadingMarks.None, null), (result.Readings.Span[0].Marks, result.ClockOff));
    }

    [Theory]
    [InlineData("2026-11-25T03:09:10.001Z", 300.001)]
    [InlineData("2026-10-26T03:04:09.999Z", -2592000.001)]
    [InlineData("1970-01-01T00:00:12Z", -1795575838)]
    public void Read_time_that_is_not_believed_keeps_the_reading_at_its_arrival_and_tells_by_how_much(string sent, double offSeconds)
    {
        PayloadResult result = Read($"\"{sent}\"");

        Reading reading = result.Readings.Span[0];
        Assert.Equal((Arrived, ReadingMarks.ClockOff, 31.4), (reading.At, reading.Marks, reading.Value));
        Assert.Equal(offSeconds, result.ClockOff?.TotalSeconds);
        Assert.True(result.SaysTime);
    }

    [Theory]
    [InlineData("\"2165-165-165T45:165:85Z\"")]
    [InlineData("\"2026-11-25T03:04:05\"")]
    [InlineData("\"yesterday\"")]
    [InlineData("1e300")]
    [InlineData("-1e16")]
    [InlineData("[2026,11,25]")]
    [InlineData("{\"h\":3}")]
    [InlineData("true")]
    public void Read_time_that_cannot_be_read_keeps_the_reading_at_its_arrival(string sent)
    {
        PayloadResult result = Read(sent);

        Assert.Equal((Arrived, ReadingMarks.ClockOff), (result.Readings.Span[0].At, result.Readings.Span[0].Marks));
        Assert.Null(result.ClockOff);
    }

    [Theory]
    [InlineData("1795575845", "2026-11-25T03:04:05Z")]
    [InlineData("1795575845.25", "2026-11-25T03:04:05.250Z")]
    [InlineData("1.795575845e9", "2026-11-25T03:04:05Z")]
    [InlineData("1795575845250", "2026-11-25T03:04:05.250Z")]
    public void Read_time_in_seconds_or_milliseconds_since_1970_is_believed_like_any_other(string sent, string at)
    {
        PayloadResult result = Read(sent);

        Assert.Equal(DateTimeOffset.Parse(at, CultureInfo.InvariantCulture), result.Readings.Span[0].At.ToDateTimeOffset());
        Assert.Equal(ReadingMarks.None, result.Readings.Span[0].Marks);
    }

    [Fact]
    public void Read_time_since_the_board_was_switched_on_is_no_time_of_day()
    {
        PayloadResult result = Read("4711");

        Assert.Equal((Arrived, ReadingMarks.ClockOff), (result.Readings.Span[0].At, result.Readings.Span[0].Marks));
        Assert.True(result.ClockOff < Duration.FromDays(-365 * 50));
    }

    [Theory]
    [InlineData("null")]
    [InlineData("\"\"")]
    public void Read_clock_that_is_not_set_yet_is_no_wrong_clock(string sent) =>
        Assert.Equal(ReadingMarks.ArrivalTime, Read(sent).Readings.Span[0].Marks);

    [Fact]
    public void Read_nothing_before_2020_is_believed_even_if_the_service_itself_is_back_there() =>
        Assert.False(ProbeClock.Believes(Instant.FromUtc(2019, 12, 31, 23, 59), Instant.FromUtc(2020, 1, 1, 0, 1)));

    private static PayloadResult Read(string at) => Heard.Read($"{{\"value\":31.4,\"at\":{at}}}");
}
