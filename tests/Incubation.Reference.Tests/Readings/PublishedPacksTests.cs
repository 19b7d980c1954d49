using System.Globalization;
using System.Text;
using Incubation.Core.Readings;
using Incubation.Reference.Tests.Sources;
using Xunit;

namespace Incubation.Reference.Tests.Readings;

/// <summary>SenML packs as RFC 8428 prints them, against what it says they mean.</summary>
public sealed class PublishedPacksTests
{
    private const string Section6 =
        "87a721781b75726e3a6465763a6f773a3130653230373361303130383030363a22fb41d303a15b00106223614120050067766f6c7461676501615602fb405e06666666"
        + "6666a3006763757272656e74062402fb3ff3333333333333a3006763757272656e74062302fb3ff4cccccccccccda3006763757272656e74062202fb3ff666666666"
        + "6666a3006763757272656e74062102f93e00a3006763757272656e74062002fb3ff999999999999aa3006763757272656e74060002fb3ffb333333333333";

    [Fact]
    [Source("Jennings, C. et al.", 2018, "RFC 8428: Sensor Measurement Lists (SenML)", "section 5.1.1, single datapoint")]
    public void TryRead_single_datapoint_is_a_temperature_about_now()
    {
        SenMLRecord record = Assert.Single(Json("""[{"n":"urn:dev:ow:10e2073a01080063","u":"Cel","v":23.1}]"""));

        Assert.Equal(("urn:dev:ow:10e2073a01080063", "Cel", 23.1, null), (record.Name, record.Unit, record.Number, record.Time));
    }

    [Fact]
    [Source("Jennings, C. et al.", 2018, "RFC 8428: Sensor Measurement Lists (SenML)", "section 5.1.2, voltage and current now")]
    public void TryRead_two_datapoints_share_their_base_name() =>
        Assert.Equal(
            ["urn:dev:ow:10e2073a01080063:voltage V 120.1", "urn:dev:ow:10e2073a01080063:current A 1.2"],
            Json("""[{"bn":"urn:dev:ow:10e2073a01080063:","n":"voltage","u":"V","v":120.1},{"n":"current","u":"A","v":1.2}]""").Select(Text));

    [Theory]
    [InlineData(SenMLForm.Json)]
    [InlineData(SenMLForm.Cbor)]
    [Source("Jennings, C. et al.", 2018, "RFC 8428: Sensor Measurement Lists (SenML)", "section 5.1.2, current over five seconds; section 6, the same in CBOR")]
    public void TryRead_current_over_five_seconds_is_the_same_in_both_forms(SenMLForm form)
    {
        IReadOnlyList<SenMLRecord> records = form == SenMLForm.Cbor ? Cbor(Section6) : Json("""
            [{"bn":"urn:dev:ow:10e2073a0108006:","bt":1.276020076001e+09,"bu":"A","bver":5,"n":"voltage","u":"V","v":120.1},
             {"n":"current","t":-5,"v":1.2},{"n":"current","t":-4,"v":1.3},{"n":"current","t":-3,"v":1.4},
             {"n":"current","t":-2,"v":1.5},{"n":"current","t":-1,"v":1.6},{"n":"current","v":1.7}]
            """);

        Assert.Equal("urn:dev:ow:10e2073a0108006:voltage V 120.1", Text(records[0]));
        Assert.Equal([1.2, 1.3, 1.4, 1.5, 1.6, 1.7], records.Skip(1).Select(r => r.Number));
        Assert.All(records.Skip(1), r => Assert.Equal(("urn:dev:ow:10e2073a0108006:current", "A"), (r.Name, r.Unit)));
        Assert.Equal([1276020076.001, 1276020071.001, 1276020072.001, 1276020073.001, 1276020074.001, 1276020075.001, 1276020076.001], records.Select(r => r.Time!.Value));
    }

    [Fact]
    [Source("Jennings, C. et al.", 2018, "RFC 8428: Sensor Measurement Lists (SenML)", "section 5.1.3, multiple measurements; section 5.1.4, the same resolved")]
    public void TryRead_measurements_of_a_moving_device_resolve_as_printed()
    {
        IReadOnlyList<SenMLRecord> records = Json("""
            [{"bn":"urn:dev:ow:10e2073a01080063","bt":1.320067464e+09,"bu":"%RH","v":20},{"u":"lon","v":24.30621},{"u":"lat","v":60.07965},
             {"t":60,"v":20.3},{"u":"lon","t":60,"v":24.30622},{"u":"lat","t":60,"v":60.07965},{"t":120,"v":20.7},
             {"u":"lon","t":120,"v":24.30623},{"u":"lat","t":120,"v":60.07966},{"u":"%EL","t":150,"v":98},
             {"t":180,"v":21.2},{"u":"lon","t":180,"v":24.30628},{"u":"lat","t":180,"v":60.07967}]
            """);

        Assert.All(records, r => Assert.Equal("urn:dev:ow:10e2073a01080063", r.Name));
        Assert.Equal(["%RH", "lon", "lat", "%RH", "lon", "lat", "%RH", "lon", "lat", "%EL", "%RH", "lon", "lat"], records.Select(r => r.Unit));
        Assert.Equal([20, 20.3, 20.7, 21.2], records.Where(r => r.Unit == "%RH").Select(r => r.Number));
        Assert.Equal([1320067464.0, 1320067524, 1320067584, 1320067644], records.Where(r => r.Unit == "%RH").Select(r => r.Time!.Value));
        Assert.Equal((98.0, 1320067614.0), (records[9].Number, records[9].Time));
    }

    [Fact]
    [Source("Jennings, C. et al.", 2018, "RFC 8428: Sensor Measurement Lists (SenML)", "section 5.1.5, multiple data types", Remark = "from memory")]
    public void TryRead_values_of_several_types_are_told_apart()
    {
        IReadOnlyList<SenMLRecord> records = Json("""
            [{"bn":"urn:dev:ow:10e2073a01080063:","n":"temp","u":"Cel","v":23.1},{"n":"label","vs":"Machine Room"},{"n":"open","vb":false},
             {"n":"nfc-reader","vd":"aGkgCg"}]
            """);

        Assert.Equal([SenMLValue.Number, SenMLValue.Text, SenMLValue.Flag, SenMLValue.Data], records.Select(r => r.Kind));
        Assert.Equal(("Machine Room", 0.0), (records[1].Text, records[2].Number));
    }

    [Theory]
    [InlineData(268_435_455, true)]
    [InlineData(268_435_456, false)]
    [Source("Jennings, C. et al.", 2018, "RFC 8428: Sensor Measurement Lists (SenML)", "section 4.5.3: times below 2**28 are relative to now")]
    public void Times_below_two_to_the_28_are_relative(double seconds, bool relative) => Assert.Equal(relative, seconds < SenMLRecord.RelativeBelow);

    [Theory]
    [InlineData("sport/tennis/{probe}", "sport/tennis/player2", true)]
    [InlineData("sport/tennis/{probe}", "sport/tennis/player1/ranking", false)]
    [InlineData("sport/{probe}", "sport", false)]
    [InlineData("sport/{probe}", "sport/", false)]
    [InlineData("{any}/{probe}", "/finance", true)]
    [InlineData("{probe}", "/finance", false)]
    [InlineData("{any}/monitor/{probe}", "$SYS/monitor/Clients", false)]
    [InlineData("{probe}", "sport", true)]
    [InlineData("ACCOUNTS/{probe}", "Accounts/a", false)]
    [InlineData("a/{probe}", "a/b/c", false)]
    [InlineData("farm/{probe}/temp", "farm/box3/temp/raw", false)]
    [InlineData("été/{probe}", "été/x", true)]
    [Source("OASIS", 2019, "MQTT Version 5.0", "section 4.7: topic names and filters, with + where the template has a part",
        Remark = "examples from memory; an empty level matches + and is no name of a probe")]
    public void Match_template_hears_what_its_filter_would_hear(string template, string topic, bool heard)
    {
        Assert.True(TopicTemplate.TryParse(template, out TopicTemplate? parsed, out string? reason), reason);

        Assert.Equal(heard, parsed!.Match(topic).Kind == TopicKind.Reading);
    }

    [Theory]
    [InlineData("sport/tennis#/{probe}")]
    [InlineData("sport+/{probe}")]
    [InlineData("$share/consumer1/{probe}")]
    [InlineData("")]
    [Source("OASIS", 2019, "MQTT Version 5.0", "section 4.7.1 and 4.8.2: wildcards fill a level, shared subscriptions begin with $share", Remark = "from memory")]
    public void TryParse_template_whose_filter_would_be_wrong_or_shared_is_refused(string template) =>
        Assert.False(TopicTemplate.TryParse(template, out _, out _));

    [Theory]
    [InlineData(-100, 60.26)]
    [InlineData(-40, 84.27)]
    [InlineData(-20, 92.16)]
    [InlineData(-10, 96.09)]
    [InlineData(0, 100.00)]
    [InlineData(10, 103.90)]
    [InlineData(20, 107.79)]
    [InlineData(26, 110.12)]
    [InlineData(30, 111.67)]
    [InlineData(32, 112.45)]
    [InlineData(34, 113.22)]
    [InlineData(36, 114.00)]
    [InlineData(40, 115.54)]
    [InlineData(60, 123.24)]
    [InlineData(150, 157.33)]
    [InlineData(400, 247.09)]
    [InlineData(850, 390.48)]
    [Source("IEC", 2022, "IEC 60751: Industrial platinum resistance thermometers and platinum temperature sensors", "table of resistances of a Pt100, two decimals",
        Remark = "0 to 60 °C found in published tables, the rest from memory; all agree with the standard's equation")]
    public void Celsius_of_a_printed_resistance_is_the_printed_temperature(double celsius, double ohms)
    {
        // Half a unit of the last printed digit, and the slope where it is least.
        Assert.Equal(ohms, PlatinumResistance.Ohms(celsius), 0.00501);
        Assert.Equal(celsius, PlatinumResistance.Celsius(ohms), 0.018);
    }

    [Theory]
    [InlineData(92.16, -19.99974)]
    [InlineData(100, 0)]
    [InlineData(108.5, 21.81893)]
    [InlineData(111.6729, 29.99994)]
    [InlineData(113.61, 35.00438)]
    [InlineData(120, 51.56605)]
    [Source("IEC", 2022, "IEC 60751: Industrial platinum resistance thermometers and platinum temperature sensors", "the equation solved for the temperature",
        Remark = "solved by another program; 0.001 °C")]
    public void Celsius_of_a_resistance_solves_the_equation(double ohms, double celsius) =>
        Assert.Equal(celsius, PlatinumResistance.Celsius(ohms), 0.001);

    private static string Text(SenMLRecord record) => string.Create(CultureInfo.InvariantCulture, $"{record.Name} {record.Unit} {record.Number}");

    private static IReadOnlyList<SenMLRecord> Json(string pack)
    {
        Assert.True(SenMLPack.TryRead(Encoding.UTF8.GetBytes(pack), SenMLForm.Json, out IReadOnlyList<SenMLRecord> records, out string? reason), reason);
        return records;
    }

    private static IReadOnlyList<SenMLRecord> Cbor(string hex)
    {
        Assert.True(SenMLPack.TryRead(Convert.FromHexString(hex), SenMLForm.Cbor, out IReadOnlyList<SenMLRecord> records, out string? reason), reason);
        return records;
    }
}
