using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Readings;

/// <summary>Whose and of what the records of a pack are, and when they were measured.</summary>
public sealed class SenMLReadingTests
{
    private static readonly Instant Arrived = Heard.Arrived;

    [Theory]
    [InlineData("""{"n":"temperature","u":"Cel","v":31.4}""", "hazel-air/temperature")]
    [InlineData("""{"n":"Temperature","v":31.4}""", "hazel-air/temperature")]
    [InlineData("""{"n":"hazel-air:temperature","v":31.4}""", "hazel-air/temperature")]
    [InlineData("""{"bn":"hazel-air","n":"/temperature","v":31.4}""", "hazel-air/temperature")]
    [InlineData("""{"bn":"rowan.air.","n":"humidity","v":31.4}""", "rowan.air/humidity")]
    [InlineData("""{"n":"room/left/room-temperature","v":31.4}""", "room:left/room-temperature")]
    [InlineData("""{"bn":"urn:dev:ow:10e2073a01080063:","n":"temperature","v":31.4}""", "10e2073a01080063/temperature")]
    [InlineData("""{"n":"urn:dev:mac:0024befffe804ff1_humidity","v":31.4}""", "0024befffe804ff1/humidity")]
    [InlineData("""{"n":"urn:dev:mac/0024befffe804ff1_temperature","v":31.4}""", "0024befffe804ff1/temperature")]
    [InlineData("""{"bn":"urn:dev:ow:10e2073a01080063","u":"Cel","v":31.4}""", "10e2073a01080063/temperature")]
    [InlineData("""{"bn":"urn:dev:ow:","n":"10e2073a01080063","u":"%RH","v":31.4}""", "10e2073a01080063/humidity")]
    [InlineData("""{"n":"left","u":"K","v":304.55}""", "hazel-air:left/temperature")]
    [InlineData("""{"n":"hazel-air","u":"dBm","v":-60}""", "hazel-air/signal")]
    [InlineData("""{"n":"battery","u":"V","v":3.7}""", "hazel-air/battery-voltage")]
    [InlineData("""{"u":"%EL","v":57}""", "hazel-air/battery")]
    [InlineData("""{"n":"co2","u":"ppm","v":812}""", "hazel-air/co2")]
    [InlineData("""{"bn":"rowan:","n":"co2","v":812}""", "rowan/co2")]
    [InlineData("""{"v":31.4}""", "hazel-air/temperature")]
    [InlineData("""{"bn":"urn:dev:ow:10e2073a01080063","v":31.4}""", "10e2073a01080063/temperature")]
    [InlineData("""{"n":"door","vb":false}""", "hazel-air/door")]
    [InlineData("""{"n":"lid-door","vs":"open"}""", "hazel-air/lid-door")]
    [InlineData("""{"n":"heater","vb":true}""", "hazel-air/heater")]
    public void Read_record_is_of_the_probe_and_quantity_that_its_name_unit_or_topic_tell(string record, string series)
    {
        PayloadResult result = Heard.Read($"[{record}]");

        Assert.Null(result.Rejection);
        Assert.Equal(series, Assert.Single(result.Readings.ToArray()).Series.ToString());
    }

    [Fact]
    public void Read_unit_of_the_topics_own_kind_is_of_the_topics_quantity() =>
        Assert.Equal(
            new SeriesKey(Heard.Probe, Quantity.RoomTemperature),
            Heard.Read("""[{"u":"[degF]","v":70.7}]""", Quantity.RoomTemperature).Readings.Span[0].Series);

    [Fact]
    public void Read_configured_field_is_a_name_too_and_brings_its_unit()
    {
        PayloadFields fields = new("value", "unit", "at", new Dictionary<string, string> { ["tempF"] = "temperature degF" });

        Reading reading = Heard.Read("""[{"n":"tempF","v":88.52}]""", fields: fields).Readings.Span[0];

        Assert.Equal((Quantity.Temperature, 31.4), (reading.Series.Quantity, Math.Round(reading.Value, 9)));
    }

    [Theory]
    [InlineData("""{"n":"-x:temperature","v":31}""", "characters")]
    [InlineData("""{"n":"a b:temperature","v":31}""", "characters")]
    [InlineData("""{"n":"é","u":"Cel","v":31}""", "characters")]
    [InlineData("""{"n":"temperature","vs":"31.4"}""", "text or data")]
    [InlineData("""{"n":"temperature","vb":true}""", "text or data")]
    [InlineData("""{"n":"door","vs":"ajar"}""", "text or data")]
    [InlineData("""{"n":"photo","vd":"aGkgCg"}""", "text or data")]
    [InlineData("""{"n":"temperature","s":1130.5}""", "sum")]
    [InlineData("""{"n":"temperature","u":"%RH","v":31}""", "none of temperature")]
    [InlineData("""{"n":"temperature","u":"Cel","v":400}""", "above 80")]
    [InlineData("""{"n":"temperature","v":1e400}""", "finite")]
    public void Read_record_that_cannot_be_used_is_left_out_with_the_reason_and_alone_it_is_rejected(string record, string words)
    {
        PayloadResult alone = Heard.Read($"[{record}]"), beside = Heard.Read($$"""[{{record}},{"n":"humidity","v":86}]""");

        Assert.Contains(words, alone.Rejection, StringComparison.Ordinal);
        Assert.Contains(words, beside.LeftOut, StringComparison.Ordinal);
        Assert.Equal(86, Assert.Single(beside.Readings.ToArray()).Value);
    }

    [Fact]
    public void Read_sum_beside_a_value_is_not_used_and_the_value_is()
    {
        PayloadResult result = Heard.Read("""[{"n":"temperature","v":31.4,"s":1130.5}]""");

        Assert.Equal(31.4, result.Readings.Span[0].Value);
        Assert.Contains("sum", result.LeftOut, StringComparison.Ordinal);
    }

    [Fact]
    public void Read_name_longer_than_a_probe_may_have_is_left_out() =>
        Assert.Contains("name of a SenML record", Heard.Read($$"""[{"n":"{{new string('p', 81)}}.a:temperature","v":31}]""").Rejection, StringComparison.Ordinal);

    [Fact]
    public void Read_pack_without_anything_to_tell_the_quantity_by_is_rejected()
    {
        Assert.Contains("names no quantity", Heard.Read("""[{"v":31}]"""u8, null).Rejection, StringComparison.Ordinal);
        Assert.Contains("names no quantity", Heard.Read("""[{"bn":"urn:dev:ow:10e2073a01080063","u":"lat","v":60.1}]"""u8, null).Rejection, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("[]")]
    [InlineData("""[{"bn":"p:","bt":1795575845}]""")]
    public void Read_pack_without_a_record_is_rejected(string pack) =>
        Assert.Contains("no record with a value", Heard.Read(pack).Rejection, StringComparison.Ordinal);

    [Theory]
    [InlineData("", 0, ReadingMarks.ArrivalTime)]
    [InlineData(",\"t\":0", 0, ReadingMarks.ArrivalTime)]
    [InlineData(",\"t\":-2.5", -2500, ReadingMarks.ArrivalTime)]
    [InlineData(",\"t\":60", 60_000, ReadingMarks.ArrivalTime)]
    [InlineData(",\"bt\":-100,\"t\":90", -10_000, ReadingMarks.ArrivalTime)]
    [InlineData(",\"t\":301", 0, ReadingMarks.ClockOff)]
    [InlineData(",\"t\":-2592001", 0, ReadingMarks.ClockOff)]
    [InlineData(",\"t\":268435455", 0, ReadingMarks.ClockOff)]
    [InlineData(",\"t\":268435456", 0, ReadingMarks.ClockOff)]
    [InlineData(",\"t\":1795575845", -5000, ReadingMarks.None)]
    [InlineData(",\"bt\":1.795575e9,\"t\":845.25", -4750, ReadingMarks.None)]
    [InlineData(",\"t\":-1e300", 0, ReadingMarks.ClockOff)]
    [InlineData(",\"t\":1e300", 0, ReadingMarks.ClockOff)]
    public void Read_time_below_two_to_the_28_is_relative_and_costs_no_reading_when_it_is_wild(string time, long offMs, ReadingMarks marks)
    {
        Reading reading = Heard.Read($$"""[{"n":"temperature","v":31.4{{time}}}]""").Readings.Span[0];

        Assert.Equal((Arrived + Duration.FromMilliseconds(offMs), Arrived, marks), (reading.At, reading.ArrivedAt, reading.Marks));
    }

    [Fact]
    public void Read_what_a_probe_kept_through_a_network_cut_comes_in_order_each_at_its_own_time_and_the_newest_tells_of_the_clock()
    {
        PayloadResult result = Heard.Read("""
            [{"bn":"p:","bt":1795575845,"n":"temperature","v":31.4},{"n":"temperature","t":-20,"v":31.2},{"n":"temperature","t":-10,"v":31.3}]
            """);

        Assert.Equal([31.2, 31.3, 31.4], result.Readings.ToArray().Select(r => r.Value));
        Assert.Equal([-25.0, -15, -5], result.Readings.ToArray().Select(r => (r.At - Arrived).TotalSeconds));
        Assert.Equal((true, Arrived - Duration.FromSeconds(5), null), (result.SaysTime, result.SentAt, result.ClockOff));
    }

    [Fact]
    public void Read_power_on_value_is_told_by_the_record_before_it_in_the_same_pack()
    {
        PayloadResult result = Heard.Read("""[{"n":"temperature","v":31.4,"t":-2},{"n":"temperature","v":85,"t":-1}]""");

        Assert.Equal([ReadingMarks.None, ReadingMarks.Faulty], result.Readings.ToArray().Select(r => r.Marks & ReadingMarks.Faulty));
        Assert.Contains("above 80", Heard.Read("""[{"n":"temperature","v":79,"t":-2},{"n":"temperature","v":85,"t":-1}]""").LeftOut, StringComparison.Ordinal);
    }
}
