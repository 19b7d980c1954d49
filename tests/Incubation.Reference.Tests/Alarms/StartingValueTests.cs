using Incubation.Core.Readings;
using Incubation.Reference.Tests.Sources;
using Incubation.Service.Facility;
using Xunit;

namespace Incubation.Reference.Tests.Alarms;

/// <summary>What a new incubator's bands start with, beside the starting values for alarms of process plants. Both are to be tuned.</summary>
public sealed class StartingValueTests
{
    private const string Standard = "ANSI/ISA-18.2 basic alarm design tables (after EEMUA 191 practice)";
    private const string Unseen = "the deadband in percent found quoted in two public texts, the seconds from memory";

    [Fact]
    [Source("ISA", 2016, Standard, "deadband of a temperature signal: 1 % of range", Remark = Unseen
        + "; the range taken is that of the probe in an egg room, 10 to 40 °C, of which one in a hundred is 0.3 °C: ours is 0.2 °C, since the band is 2 °C wide and a probe repeats within 0.1 °C")]
    public void Deadband_of_temperature_is_no_wider_than_the_starting_value_and_no_narrower_than_half_of_it()
        => Assert.InRange(Temperature.Deadband, 0.01 * (40 - 10) / 2, 0.01 * (40 - 10));

    [Fact]
    [Source("ISA", 2016, Standard, "on-delay of a temperature signal: 60 s", Remark = Unseen
        + "; danger starts with it; a warning waits 300 s, because a lid that is open for two minutes is no reason to call anyone")]
    public void On_delay_of_danger_is_the_starting_value_and_that_of_a_warning_is_longer()
    {
        Assert.Equal(60, Temperature.DangerOnDelaySeconds);
        Assert.True(Temperature.WarningOnDelaySeconds > 60);
    }

    [Fact]
    [Source("ISA", 2016, Standard, "off-delay of a temperature signal: 60 s", Remark = Unseen
        + "; ours is 120 s, two readings of a probe that sends once a minute, so that one reading inside ends nothing")]
    public void Off_delay_is_twice_the_starting_value()
        => Assert.Equal(2 * 60, Temperature.OffDelaySeconds);

    [Fact]
    [NoSource(NoSourceAttribute.CommonPractice, Remark = "the tables have no row for humidity: a hygrometer answers in minutes and every lid throws it out, so that each delay is longer than temperature's")]
    public void Humidity_is_given_more_time_than_temperature()
    {
        Assert.True(Humidity.DangerOnDelaySeconds > Temperature.DangerOnDelaySeconds);
        Assert.True(Humidity.WarningOnDelaySeconds > Temperature.WarningOnDelaySeconds);
        Assert.True(Humidity.OffDelaySeconds > Temperature.OffDelaySeconds);
    }

    private static BandView Temperature => BandDefaults.All.Single(b => b.Quantity == Quantity.Temperature).Band;

    private static BandView Humidity => BandDefaults.All.Single(b => b.Quantity == Quantity.Humidity).Band;
}
