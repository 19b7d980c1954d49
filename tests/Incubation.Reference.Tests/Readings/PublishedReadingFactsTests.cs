using System.Globalization;
using System.Text;
using Incubation.Core.Readings;
using Incubation.Reference.Tests.Sources;
using NodaTime;
using Xunit;

namespace Incubation.Reference.Tests.Readings;

/// <summary>Readings against what was published elsewhere.</summary>
public sealed class PublishedReadingFactsTests
{
    [Theory]
    [InlineData("1985-04-12T23:20:50.52Z", 482196050.52, "5.8, first example")]
    [InlineData("1996-12-19T16:39:57-08:00", 851042397, "5.8, second example: 1996-12-20T00:39:57Z")]
    [InlineData("1990-12-31T23:59:60Z", 662688000, "5.8, leap second; here the start of the next minute")]
    [InlineData("1990-12-31T15:59:60-08:00", 662688000, "5.8, the same leap second in Pacific time")]
    [InlineData("1937-01-01T12:00:27.87+00:20", -1041337172.13, "5.8, Dutch offset of 1937")]
    [InlineData("2026-10-25T01:30:00+00:00", 1792891800, "5.6")]
    [InlineData("2024-02-29T12:00:00Z", 1709208000, "5.7, leap day")]
    [InlineData("2026-01-01T00:00:00-00:00", 1767225600, "4.3, unknown local offset")]
    [InlineData("2026-01-01T00:00:00+14:00", 1767175200, "5.6, largest offset in use")]
    [InlineData("1970-01-01t00:00:00z", 0, "5.6, note on lower case")]
    [InlineData("2038-01-19T03:14:08Z", 2147483648, "one second after 32 bits end")]
    [InlineData("0001-01-01T00:00:00Z", -62135596800, "lower end of the calendar here")]
    [InlineData("9999-12-31T23:59:59Z", 253402300799, "upper end of the grammar's four digits")]
    [Source("Klyne, G. and Newman, C.", 2002, "RFC 3339: Date and Time on the Internet: Timestamps", "section 5.6 (grammar), 5.7 (restrictions), 5.8 (examples)",
        Remark = "seconds derived from the calendar by two other programs; the ends of the calendar are ours")]
    public void TryParse_valid_timestamp_is_the_published_moment(string text, double unixSeconds, string section)
    {
        Assert.True(Rfc3339.TryParse(Encoding.UTF8.GetBytes(text), out Instant instant), section);
        Assert.Equal(Math.Round(unixSeconds * 1000), instant.ToUnixTimeMilliseconds());
    }

    [Theory]
    [InlineData("1900-02-29T00:00:00Z", "5.7: 1900 is no leap year")]
    [InlineData("2026-13-01T00:00:00Z", "5.7: month 13")]
    [InlineData("2026-00-01T00:00:00Z", "5.7: month 0")]
    [InlineData("2026-04-31T00:00:00Z", "5.7: April has 30 days")]
    [InlineData("2026-04-00T00:00:00Z", "5.7: day 0")]
    [InlineData("2026-01-01T24:00:00Z", "5.7: hours end at 23")]
    [InlineData("2026-01-01T00:60:00Z", "5.7: minutes end at 59")]
    [InlineData("2026-01-01T00:00:61Z", "5.7: seconds end at 60")]
    [InlineData("2026-01-01T00:00:00+24:00", "5.6: offset hours end at 23")]
    [InlineData("2026-01-01T00:00:00", "5.6: the offset is required")]
    [InlineData("2026-01-01T00:00:00.Z", "5.6: a fraction has a digit")]
    [InlineData("2026-01-01T00:00:00.5", "5.6: the offset is required")]
    [InlineData("2026-01-01T00:00:00+0100", "5.6: the offset has a colon")]
    [InlineData("2026-1-1T0:0:0Z", "5.6: two digits")]
    [InlineData("２０２６-01-01T00:00:00Z", "5.6: ASCII digits")]
    [InlineData("2026-01-01 00:00:00Z", "5.6 lets applications take a blank; this one doesn't")]
    [InlineData("2026-01-01T00:00:00Z ", "5.6: nothing follows")]
    [InlineData("", "5.6")]
    [InlineData("9999-12-31T23:59:60Z", "no such moment in this calendar; must not throw")]
    [InlineData("9999-12-31T23:59:59-23:59", "no such moment in this calendar; must not throw")]
    [Source("Klyne, G. and Newman, C.", 2002, "RFC 3339: Date and Time on the Internet: Timestamps", "section 5.6 and 5.7, as given in each row")]
    public void TryParse_invalid_timestamp_is_not_taken(string text, string section) =>
        Assert.False(Rfc3339.TryParse(Encoding.UTF8.GetBytes(text), out _), section);

    [Theory]
    [InlineData("[degF]", 32, 0)]
    [InlineData("[degF]", 212, 100)]
    [InlineData("[degF]", -40, -40)]
    [InlineData("degF", 88.7, 31.5)]
    [InlineData("K", 273.15, 0)]
    [InlineData("K", 273.16, 0.01)]
    [InlineData("K", 304.65, 31.5)]
    [InlineData("Cel", 31.5, 31.5)]
    [Source("Thompson, A. and Taylor, B. N.", 2008, "NIST Special Publication 811: Guide for the Use of the International System of Units", "appendix B.8",
        Remark = "from memory")]
    [Source("Regenstrief Institute", 2024, "Unified Code for Units of Measure (UCUM)", "codes Cel and [degF]", Remark = "year of the edition from memory")]
    public void TryConvert_temperature_meets_the_fixed_points(string unit, double value, double celsius)
    {
        Quantity temperature = Quantity.Temperature;
        Assert.True(Units.TryConvert(ref temperature, Encoding.UTF8.GetBytes(unit), value, out double held));
        Assert.Equal(celsius, held, 1e-12);
        Assert.Equal(value, unit == "K" || unit == "Cel" ? value : Units.CelsiusToFahrenheit(held), 1e-12);
    }

    [Theory]
    [InlineData("humidity", "%RH", true)]
    [InlineData("humidity", "Cel", false)]
    [InlineData("temperature", "Cel", true)]
    [InlineData("temperature", "K", true)]
    [InlineData("temperature", "%RH", false)]
    [InlineData("temperature", "C", false)]
    [Source("Jennings, C. et al.", 2018, "RFC 8428: Sensor Measurement Lists (SenML)", "section 12.1 and the IANA registry SenML Units: Cel, K, %RH")]
    public void TryConvert_takes_the_registered_names_of_its_quantity(string quantity, string unit, bool taken)
    {
        Quantity what = new(quantity);
        Assert.Equal(taken, Units.TryConvert(ref what, Encoding.UTF8.GetBytes(unit), 50, out _));
        Assert.Equal(quantity, what.Name);
    }

    [Theory]
    [InlineData("0550", ValueVerdict.Faulty)]
    [InlineData("054F", ValueVerdict.TooHigh)]
    [InlineData("0551", ValueVerdict.TooHigh)]
    [InlineData("07D0", ValueVerdict.TooHigh)]
    [InlineData("0191", ValueVerdict.Good)]
    [InlineData("0008", ValueVerdict.Good)]
    [InlineData("FFF8", ValueVerdict.Good)]
    [InlineData("FE6F", ValueVerdict.Good)]
    [Source("Maxim Integrated", 2019, "DS18B20 data sheet", "table 1, Temperature/Data Relationship, and its note on the power-on reset value",
        Remark = "year of the revision from memory; the neighbouring steps of 1/16 K are no power-on values")]
    public void Judge_register_of_a_bus_probe_knows_its_power_on_value(string register, ValueVerdict verdict)
    {
        double celsius = short.Parse(register, NumberStyles.HexNumber, CultureInfo.InvariantCulture) / 16.0;

        Assert.Equal(verdict, ReadingJudge.Judge(Quantity.Temperature, celsius, null));
    }

    [Theory]
    [InlineData("E0A080", true)]
    [InlineData("F48FBFBF", true)]
    [InlineData("ED9FBF", true)]
    [InlineData("EFBFBF", true)]
    [InlineData("F09F908D", true)]
    [InlineData("C0AF", false)]
    [InlineData("F08080AF", false)]
    [InlineData("80", false)]
    [InlineData("EDBFBF", false)]
    [InlineData("F09F90", false)]
    [InlineData("FE", false)]
    [InlineData("F888808080", false)]
    [InlineData("B043", false)]
    [Source("The Unicode Consortium", 2022, "The Unicode Standard, Version 15.0", "chapter 3, table 3-7, Well-Formed UTF-8 Byte Sequences")]
    public void Read_text_in_an_object_must_be_well_formed(string hex, bool wellFormed)
    {
        byte[] payload = [.. "{\"note\":\""u8, .. Convert.FromHexString(hex), .. "\",\"value\":31.4}"u8];

        PayloadResult result = PayloadReader.Read(
            payload, new PayloadSource("p", Quantity.Temperature, Instant.FromUtc(2026, 11, 25, 0, 0)), PayloadFields.Default, new Unheard());

        Assert.Equal(wellFormed, result.Rejection is null);
    }

    private sealed class Unheard : ISeriesMemory
    {
        public ReadingMemory? Recall(in SeriesKey series) => null;
    }
}
