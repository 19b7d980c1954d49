using System.Globalization;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Readings;

public sealed class PayloadReaderTests
{
    private static readonly Instant Arrived = Heard.Arrived;

    [Theory]
    [InlineData("31.4", 31.4)]
    [InlineData(" 31.4\r\n", 31.4)]
    [InlineData("+31.4", 31.4)]
    [InlineData("-3", -3)]
    [InlineData("3.14e1", 31.4)]
    [InlineData("\uFEFF31.4", 31.4)]
    [InlineData("{\"value\":31.4}", 31.4)]
    [InlineData("{\"v\\u0061lue\":31.4}", 31.4)]
    [InlineData("{\"value\":31.4,\"unit\":null,\"at\":null}", 31.4)]
    [InlineData("{\"value\":31.4,\"battery\":{\"volts\":[3.1,{\"x\":null}]},\"name\":\"Häschen\"}", 31.4)]
    [InlineData("{\"unit\":\"Cel\",\"value\":31.4}", 31.4)]
    [InlineData("{\"unit\":\"[degF]\",\"value\":88.52}", 31.4)]
    [InlineData("{\"unit\":\"d\\u0065gF\",\"value\":88.52}", 31.4)]
    [InlineData("{\"unit\":\"K\",\"value\":304.55}", 31.4)]
    public void Read_number_or_object_gives_the_value_in_degrees_Celsius(string payload, double celsius)
    {
        PayloadResult result = Read(payload);

        Assert.Null(result.Rejection);
        Reading reading = Assert.Single(result.Readings.ToArray());
        Assert.Equal(celsius, reading.Value, 1e-12);
        Assert.Equal(new SeriesKey("hazel-air", Quantity.Temperature), reading.Series);
        Assert.Equal((Arrived, Arrived, ReadingMarks.ArrivalTime), (reading.At, reading.ArrivedAt, reading.Marks));
    }

    [Theory]
    [InlineData("", "empty")]
    [InlineData(" \r\n", "empty")]
    [InlineData("nan", "finite")]
    [InlineData("NaN", "finite")]
    [InlineData("Infinity", "finite")]
    [InlineData("1e400", "finite")]
    [InlineData("-1e400", "finite")]
    [InlineData("{\"value\":1e400}", "finite")]
    [InlineData("31,4", "decimal comma")]
    [InlineData("31.4 C", "neither a number")]
    [InlineData("31.4 31.5", "neither a number")]
    [InlineData("1_000", "neither a number")]
    [InlineData("0x1F", "neither a number")]
    [InlineData("３１", "neither a number")]
    [InlineData("\"31.4\"", "neither a number")]
    [InlineData("true", "neither a number")]
    [InlineData("31.4\0", "zero byte")]
    [InlineData("[31.4]", "no SenML pack")]
    [InlineData("{\"value\":31.4", "broken")]
    [InlineData("{\"value\":31.4}}", "broken")]
    [InlineData("{\"value\":31.4} 7", "broken")]
    [InlineData("{\"value\":31.4,}", "broken")]
    [InlineData("{value:31.4}", "broken")]
    [InlineData("{\"value\":NaN}", "broken")]
    [InlineData("{\"value\":031.4}", "broken")]
    [InlineData("{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":{\"a\":1}}}}}}}}}}}}}}}}},\"value\":1}", "broken")]
    [InlineData("{}", "no field \"value\"")]
    [InlineData("{\"Value\":31.4}", "no field \"value\"")]
    [InlineData("{\"value\":\"31.4\"}", "without quotes")]
    [InlineData("{\"value\":null}", "is no number")]
    [InlineData("{\"value\":{\"value\":31.4}}", "is no number")]
    [InlineData("{\"value\":[31.4]}", "is no number")]
    [InlineData("{\"value\":31.4,\"value\":31.5}", "twice")]
    [InlineData("{\"value\":31.4,\"unit\":\"Cel\",\"unit\":\"K\"}", "twice")]
    [InlineData("{\"value\":31.4,\"at\":null,\"at\":\"2026-11-25T03:04:05Z\"}", "twice")]
    [InlineData("{\"value\":31.4,\"unit\":7}", "is no text")]
    [InlineData("{\"value\":31.4,\"unit\":\"Reaumur\"}", "Cel, [degF], degF, K")]
    [InlineData("{\"value\":31.4,\"unit\":\"cel\"}", "Cel, [degF], degF, K")]
    [InlineData("{\"value\":31.4,\"unit\":\"%RH\"}", "Cel, [degF], degF, K")]
    [InlineData("{\"value\":31.4,\"unit\":\"\\ud800\"}", "UTF-8")]
    [InlineData("400", "above 80")]
    [InlineData("80.1", "above 80")]
    [InlineData("-40.1", "below -40")]
    [InlineData("{\"value\":1e308,\"unit\":\"degF\"}", "above 80")]
    public void Read_bad_payload_is_rejected_with_cause_and_fix(string payload, string words)
    {
        ReadingMemory memory = new(31, Arrived);

        PayloadResult result = Read(payload, previous: memory);

        Assert.Contains(words, result.Rejection, StringComparison.Ordinal);
        Assert.Contains(". ", result.Rejection, StringComparison.Ordinal);
        Assert.True(result.Readings.IsEmpty);
    }

    [Theory]
    [InlineData("0", 0, ReadingMarks.ArrivalTime)]
    [InlineData("86", 86, ReadingMarks.ArrivalTime)]
    [InlineData("99.99", 99.99, ReadingMarks.ArrivalTime)]
    [InlineData("100", 100, ReadingMarks.ArrivalTime | ReadingMarks.Saturated)]
    [InlineData("{\"value\":104.9,\"unit\":\"%\"}", 104.9, ReadingMarks.ArrivalTime | ReadingMarks.Saturated)]
    [InlineData("{\"value\":105,\"unit\":\"%RH\"}", 105, ReadingMarks.ArrivalTime | ReadingMarks.Saturated)]
    public void Read_humidity_is_kept_as_sent_and_marked_from_100(string payload, double value, ReadingMarks marks)
    {
        Reading reading = Read(payload, Quantity.Humidity).Readings.Span[0];

        Assert.Equal((value, marks), (reading.Value, reading.Marks));
        Assert.True(reading.IsGood);
    }

    [Theory]
    [InlineData("105.1", "above 105")]
    [InlineData("-0.1", "below 0")]
    [InlineData("{\"value\":50,\"unit\":\"Cel\"}", "%RH or %")]
    public void Read_impossible_humidity_is_rejected(string payload, string words) =>
        Assert.Contains(words, Read(payload, Quantity.Humidity).Rejection, StringComparison.Ordinal);

    [Fact]
    public void Read_other_quantity_is_kept_as_sent_whatever_its_unit_and_size()
    {
        Assert.Equal(-4000, Read("{\"value\":-4000,\"unit\":\"lx\"}", new Quantity("light")).Readings.Span[0].Value);
        Assert.NotNull(Read("NaN", new Quantity("light")).Rejection);
    }

    [Fact]
    public void Read_bytes_that_are_no_UTF8_are_rejected()
    {
        Assert.Contains("UTF-8", Read([0x33, 0x31, 0xB0, 0x43]).Rejection, StringComparison.Ordinal);
        Assert.Contains("UTF-8", Read([.. "{\"value\":31.4,\"note\":\""u8, 0xC0, 0xAF, .. "\"}"u8]).Rejection, StringComparison.Ordinal);
    }

    [Fact]
    public void Read_payload_over_the_bound_is_rejected_and_one_at_the_bound_is_read()
    {
        string most = "{\"value\":31.4,\"note\":\"" + new string('x', Limits.PayloadBytes - 24) + "\"}";
        Assert.Equal(Limits.PayloadBytes, most.Length);

        Assert.Null(Read(most).Rejection);
        Assert.Contains("65536", Read(most + " ").Rejection, StringComparison.Ordinal);
        Assert.Contains("65536", Read(new byte[1 << 20]).Rejection, StringComparison.Ordinal);
    }

    [Fact]
    public void Read_field_names_can_be_changed_and_the_reasons_follow()
    {
        PayloadFields fields = new("t", "u", "ts");

        PayloadResult result = Read("{\"t\":304.55,\"u\":\"K\",\"ts\":\"2026-11-25T03:04:05Z\",\"value\":7}", fields: fields);

        Assert.Equal((31.4, Arrived - Duration.FromSeconds(5)), (Math.Round(result.Readings.Span[0].Value, 9), result.Readings.Span[0].At));
        Assert.Contains("\"t\"", Read("{\"value\":31.4}", fields: fields).Rejection, StringComparison.Ordinal);
        Assert.Throws<FormatException>(() => new PayloadFields("v", "v", "at"));
        Assert.Throws<FormatException>(() => new PayloadFields("", "u", "at"));
    }

    [Fact]
    public void Read_depends_on_no_culture()
    {
        CultureInfo before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("de-DE");
            Assert.Equal(31.4, Read("31.4").Readings.Span[0].Value);
            Assert.Contains("comma", Read("31,4").Rejection, StringComparison.Ordinal);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Fact]
    public void Read_takes_one_small_array_from_the_heap_and_a_rejection_none()
    {
        byte[] number = "31.4"u8.ToArray(), whole = "{\"value\":31.4,\"unit\":\"Cel\",\"at\":\"2026-11-25T03:04:05Z\"}"u8.ToArray();
        byte[] wrong = "{\"value\":400,\"unit\":\"Cel\"}"u8.ToArray();
        Read(number);
        Read(whole);
        Read(wrong);

        Assert.InRange(Allocated(number), 1, 112);
        Assert.InRange(Allocated(whole), 1, 112);
        Assert.Equal(0, Allocated(wrong));
    }

    private static long Allocated(byte[] payload)
    {
        long before = GC.GetAllocatedBytesForCurrentThread();
        Read(payload);
        return GC.GetAllocatedBytesForCurrentThread() - before;
    }

    private static PayloadResult Read(string payload, Quantity? quantity = null, ReadingMemory? previous = null, PayloadFields? fields = null) =>
        Heard.Read(payload, quantity, previous, fields);

    private static PayloadResult Read(byte[] payload) => Heard.Read(payload, Quantity.Temperature);
}
