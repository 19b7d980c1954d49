using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Readings;

/// <summary>Several quantities in one object, in fields of their own.</summary>
public sealed class ManyQuantitiesTests
{
    private static readonly PayloadFields Bought = new("val", "unit", "time.utc", new Dictionary<string, string>
    {
        ["tempF"] = "temperature degF",
        ["outer.inner.rh"] = "humidity",
        ["batt_mv"] = "battery mV",
        ["contact"] = "door closed",
        ["rtd"] = "floor-temperature Ohm",
        ["battery"] = "",
    });

    [Fact]
    public void Read_known_quantities_are_taken_by_their_own_names_all_at_the_objects_time()
    {
        PayloadResult result = Heard.Read("""
            {"temperature":31.4,"humidity":86.5,"battery":87,"battery-voltage":3.71,"signal":-67,"signal-quality":88,"door":false,"room-temperature":21.5,
             "at":"2026-11-25T03:04:05Z"}
            """u8, null);

        Assert.Equal(
            ["battery 87", "battery-voltage 3.71", "door 0", "humidity 86.5", "room-temperature 21.5", "signal -67", "signal-quality 88", "temperature 31.4"],
            Values(result));
        Assert.All(result.Readings.ToArray(), r => Assert.Equal((Heard.Arrived - Duration.FromSeconds(5), ReadingMarks.None), (r.At, r.Marks)));
        Assert.Null(result.LeftOut);
    }

    [Fact]
    public void Read_fields_as_configured_are_found_in_depth_and_converted()
    {
        PayloadResult result = Heard.Read(
            """{"id":7,"tempF":88.52,"outer":{"x":[1],"inner":{"rh":86,"y":{}}},"batt_mv":3710,"contact":true,"rtd":112.2835,"battery":"full","time":{"utc":1795575845}}"""u8,
            null, fields: Bought);

        Assert.Equal(["battery-voltage 3.71", "door 0", "floor-temperature 31.58", "humidity 86", "temperature 31.4"], Values(result));
        Assert.Equal(Heard.Arrived - Duration.FromSeconds(5), result.Readings.Span[0].At);
    }

    [Fact]
    public void Read_value_of_the_topic_and_others_beside_it_are_both_taken()
    {
        PayloadResult result = Heard.Read("""{"value":88.52,"unit":"degF","battery":87,"signal":null}""");

        Assert.Equal(["battery 87", "temperature 31.4"], Values(result));
    }

    [Theory]
    [InlineData("""{"value":31.4,"battery":{"volts":3.1}}""", "field of a quantity is no number")]
    [InlineData("""{"value":31.4,"battery":"87"}""", "field of a quantity is no number")]
    [InlineData("""{"value":31.4,"battery":true}""", "field of a quantity is no number")]
    [InlineData("""{"value":31.4,"battery":3710}""", "battery is outside")]
    [InlineData("""{"value":31.4,"battery":1e400}""", "finite")]
    [InlineData("""{"value":31.4,"door":"ajar"}""", "neither open nor closed")]
    [InlineData("""{"value":31.4,"door":0.5}""", "neither open nor closed")]
    [InlineData("""{"value":31.4,"battery-voltage":61}""", "voltage is outside")]
    [InlineData("""{"value":31.4,"signal":90}""", "signal is outside")]
    [InlineData("""{"value":31.4,"signal-quality":-1}""", "quality of the signal is outside")]
    public void Read_quantity_that_cannot_be_used_costs_none_of_the_others(string payload, string words)
    {
        PayloadResult result = Heard.Read(payload);

        Assert.Equal(["temperature 31.4"], Values(result));
        Assert.Contains(words, result.LeftOut, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("""{"value":31.4,"temperature":31.5}""")]
    [InlineData("""{"humidity":80,"humidity":81}""")]
    public void Read_quantity_that_is_there_twice_is_rejected(string payload) =>
        Assert.Contains("twice", Heard.Read(payload).Rejection, StringComparison.Ordinal);

    [Fact]
    public void Read_value_of_a_topic_that_names_no_quantity_is_rejected_unless_others_are_named()
    {
        Assert.Contains("what was measured", Heard.Read("31.4"u8, null).Rejection, StringComparison.Ordinal);
        Assert.Contains("what was measured", Heard.Read("""{"value":31.4}"""u8, null).Rejection, StringComparison.Ordinal);
        Assert.Contains("a field of a quantity", Heard.Read("""{"at":null}"""u8, null).Rejection, StringComparison.Ordinal);
        Assert.Equal(["humidity 86"], Values(Heard.Read("""{"value":31.4,"humidity":86}"""u8, null)));
    }

    [Theory]
    [InlineData("open", 1)]
    [InlineData("CLOSED", 0)]
    [InlineData("true", 1)]
    [InlineData("0", 0)]
    [InlineData("{\"value\":true}", 1)]
    [InlineData("{\"value\":\"closed\"}", 0)]
    [InlineData("{\"value\":1,\"unit\":\"closed\"}", 0)]
    public void Read_door_says_open_or_closed_in_one_of_several_ways(string payload, double open) =>
        Assert.Equal((Quantity.Door, open), (Heard.Read(payload, Quantity.Door).Readings.Span[0].Series.Quantity, Heard.Read(payload, Quantity.Door).Readings.Span[0].Value));

    [Theory]
    [InlineData("ajar")]
    [InlineData("2")]
    [InlineData("-1")]
    [InlineData("{\"value\":\"ajar\"}")]
    public void Read_door_that_is_neither_open_nor_closed_is_rejected(string payload) =>
        Assert.Contains("neither open nor closed", Heard.Read(payload, Quantity.Door).Rejection, StringComparison.Ordinal);

    [Fact]
    public void Read_what_a_broker_had_kept_is_of_unknown_age_whatever_its_time()
    {
        PayloadResult result = Heard.Read("""{"value":31.4,"at":"2026-11-25T03:04:05Z"}""", kept: true);

        Assert.Equal(ReadingMarks.Retained, result.Readings.Span[0].Marks);
        Assert.False(result.Readings.Span[0].IsGood);
    }

    [Theory]
    [InlineData("temp", "temperature Cel K", "temperature Cel K")]
    [InlineData("temp", "Temperature", "a-z")]
    [InlineData("temp", "temperature %RH", "in %RH")]
    [InlineData("value", "temperature", "\"value\"")]
    [InlineData("value.deep", "temperature", "\"value.deep\"")]
    [InlineData("a..b", "temperature", "empty or more than 4")]
    [InlineData("a.b.c.d.e", "temperature", "empty or more than 4")]
    public void Fields_that_cannot_be_used_say_why(string name, string holds, string words)
    {
        FormatException error = Assert.Throws<FormatException>(
            () => new PayloadFields("value", "unit", "at", new Dictionary<string, string> { [name] = holds }));
        Assert.Contains(words, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Fields_of_the_value_may_have_the_name_of_a_quantity() =>
        Assert.Equal(["humidity 86"], Values(Heard.Read("""{"temperature":86}""", Quantity.Humidity, fields: new PayloadFields("temperature", "unit", "at"))));

    private static string[] Values(PayloadResult result) =>
        [.. result.Readings.ToArray().Select(r => FormattableString.Invariant($"{r.Series.Quantity} {Math.Round(r.Value, 2)}")).Order(StringComparer.Ordinal)];
}
