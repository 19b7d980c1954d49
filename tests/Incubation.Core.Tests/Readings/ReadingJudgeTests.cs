using CsCheck;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Readings;

public sealed class ReadingJudgeTests
{
    private static readonly Instant Then = Instant.FromUtc(2026, 11, 25, 3, 4);

    [Theory]
    [InlineData(-127, null, ValueVerdict.Faulty)]
    [InlineData(-127, 31.0, ValueVerdict.Faulty)]
    [InlineData(85.0, null, ValueVerdict.Faulty)]
    [InlineData(85.0, 31.0, ValueVerdict.Faulty)]
    [InlineData(85.0, 74.9, ValueVerdict.Faulty)]
    [InlineData(85.0, 79.0, ValueVerdict.TooHigh)]
    [InlineData(84.9375, null, ValueVerdict.TooHigh)]
    [InlineData(85.0625, 31.0, ValueVerdict.TooHigh)]
    [InlineData(-126.9375, null, ValueVerdict.TooLow)]
    [InlineData(80, null, ValueVerdict.Good)]
    [InlineData(-40, null, ValueVerdict.Good)]
    [InlineData(80, 20.0, ValueVerdict.Good)]
    public void Judge_temperature_knows_the_values_that_are_none(double celsius, double? last, ValueVerdict verdict) =>
        Assert.Equal(verdict, ReadingJudge.Judge(Quantity.Temperature, celsius, last is { } l ? new ReadingMemory(l, Then) : null));

    [Fact]
    public void Judge_faults_are_found_in_every_unit_a_probe_may_send_them_in()
    {
        Quantity temperature = Quantity.Temperature;
        foreach ((byte[] unit, double noAnswer, double powerOn) in new[]
            { ("Cel"u8.ToArray(), -127, 85.0), ("degF"u8.ToArray(), -196.6, 185), ("K"u8.ToArray(), 146.15, 358.15) })
        {
            Assert.True(Units.TryConvert(ref temperature, unit, noAnswer, out double first));
            Assert.True(Units.TryConvert(ref temperature, unit, powerOn, out double second));
            Assert.Equal(ValueVerdict.Faulty, ReadingJudge.Judge(Quantity.Temperature, first, null));
            Assert.Equal(ValueVerdict.Faulty, ReadingJudge.Judge(Quantity.Temperature, second, null));
        }
    }

    [Fact]
    public void Memory_holds_the_last_good_value_only_so_that_power_on_values_in_a_row_stay_faulty()
    {
        ReadingMemory? memory = null;
        List<ReadingMarks> marks = [];
        foreach (string payload in new[] { "85", "85", "31.2", "85.0", "85.0", "-127", "31.3" })
        {
            Reading reading = Heard.Read(payload, previous: memory).Readings.Span[0];
            memory = reading.IsGood ? new ReadingMemory(reading.Value, reading.At) : memory;
            marks.Add(reading.Marks & ReadingMarks.Faulty);
        }

        const ReadingMarks bad = ReadingMarks.Faulty, good = ReadingMarks.None;
        Assert.Equal([bad, bad, good, bad, bad, bad, good], marks);
        Assert.Equal(31.3, memory?.LastGood);
    }

    [Fact]
    public void Judge_any_value_is_good_only_inside_the_plausible_range_whatever_came_before() =>
        Gen.Select(Gen.Double[-500, 500], Gen.Double[-40, 80]).Sample((celsius, last) =>
        {
            ValueVerdict verdict = ReadingJudge.Judge(Quantity.Temperature, celsius, new ReadingMemory(last, Then));
            Assert.Equal(celsius is >= -40 and <= 80, verdict == ValueVerdict.Good);
        });
}
