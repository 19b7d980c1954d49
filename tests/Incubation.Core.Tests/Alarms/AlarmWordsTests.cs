using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Alarms;

public sealed class AlarmWordsTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 3, 30);
    private static readonly Instant Raised = Instant.FromUtc(2026, 11, 25, 3, 10);
    private static readonly WordsContext Plain = new("Hazel", null, DateTimeZoneProviders.Tzdb["Europe/Lisbon"], Fahrenheit: false);

    [Theory]
    [InlineData(AlarmCondition.High, AlarmSeverity.Danger, 34.1, 33.5, false, "Hazel: temperature is 34.1 °C, 0.6 °C above its danger limit of 33.5 °C, since 03:10.")]
    [InlineData(AlarmCondition.High, AlarmSeverity.Danger, 34.1, 33.5, true, "Hazel: temperature is 93.4 °F, 1.1 °F above its danger limit of 92.3 °F, since 03:10.")]
    [InlineData(AlarmCondition.Low, AlarmSeverity.Warning, 29.9, 30.5, false, "Hazel: temperature is 29.9 °C, 0.6 °C below its warning limit of 30.5 °C, since 03:10.")]
    [InlineData(AlarmCondition.Low, AlarmSeverity.Warning, -2.5, 30.5, true, "Hazel: temperature is 27.5 °F, 59.4 °F below its warning limit of 86.9 °F, since 03:10.")]
    [InlineData(AlarmCondition.Low, AlarmSeverity.Warning, -2.5, 30.5, false, "Hazel: temperature is −2.5 °C, 33.0 °C below its warning limit of 30.5 °C, since 03:10.")]
    [InlineData(AlarmCondition.High, AlarmSeverity.Danger, 33.4, 33.5, false, "Hazel: temperature is 33.4 °C, coming back from above its danger limit of 33.5 °C since 03:10.")]
    [InlineData(AlarmCondition.High, AlarmSeverity.Danger, null, 33.5, false, "Hazel: temperature went above its danger limit of 33.5 °C at 03:10; there is no fresh reading now.")]
    [InlineData(AlarmCondition.High, AlarmSeverity.Danger, 34.1, null, false, "Hazel: temperature is 34.1 °C, coming back from above its danger limit since 03:10.")]
    public void Sentence_of_a_measured_alarm_says_how_far_on_which_side_since_when(
        AlarmCondition condition, AlarmSeverity severity, double? value, double? limit, bool fahrenheit, string sentence)
        => Assert.Equal(sentence, Say(condition, severity, value, limit, null, Plain with { Fahrenheit = fahrenheit }));

    [Fact]
    public void Sentence_of_humidity_is_in_percent_whatever_the_scale()
        => Assert.Equal("Hazel: humidity is 66.5 %RH, 3.5 %RH below its danger limit of 70 %RH, since 03:10.", AlarmWords.Sentence(
            new AlarmKey("hazel", "", Quantity.Humidity, AlarmCondition.Low, AlarmSeverity.Danger), 66.5, 70, Raised, null, Now, Plain with { Fahrenheit = true }));

    [Fact]
    public void Sentence_of_what_came_back_says_from_when_to_when()
        => Assert.Equal("Hazel: temperature is back inside since 03:25; it was above its danger limit of 33.5 °C from 03:10.",
            Say(AlarmCondition.High, AlarmSeverity.Danger, 32, 33.5, Now - Duration.FromMinutes(5), Plain));

    [Fact]
    public void Sentence_of_another_day_names_the_day()
        => Assert.Contains("since 24 Nov 23:10.", AlarmWords.Sentence(
            Key(AlarmCondition.High, AlarmSeverity.Danger), 34, 33.5, Raised - Duration.FromHours(4), null, Now, Plain), StringComparison.Ordinal);

    [Fact]
    public void Sentence_is_in_the_time_of_the_facility()
        => Assert.Contains("since 08:55.", Say(
            AlarmCondition.High, AlarmSeverity.Danger, 34, 33.5, null, Plain with { Zone = DateTimeZoneProviders.Tzdb["Asia/Kathmandu"] }), StringComparison.Ordinal);

    [Fact]
    public void Sentence_of_a_silence_says_the_name_of_the_probe_since_when_and_what_was_known_last()
    {
        var last = new LastKnown(Quantity.Temperature, 31.4, Raised - Duration.FromMinutes(10));
        Assert.Equal("Hazel: probe Grey one has sent no good temperature since 03:00; the last was 31.4 °C. The alarm stands since 03:10.",
            Say(AlarmCondition.NoReading, AlarmSeverity.Warning, null, null, null, Plain with { ProbeName = "Grey one", Last = last }));
        Assert.Contains("the last was 88.5 °F",
            Say(AlarmCondition.NoReading, AlarmSeverity.Warning, null, null, null, Plain with { Last = last, Fahrenheit = true }), StringComparison.Ordinal);
        Assert.Equal("Hazel: no good reading is known from probe p1; the alarm stands since 03:10.",
            Say(AlarmCondition.NoReading, AlarmSeverity.Warning, null, null, null, Plain));
        Assert.Equal("Hazel: probe p1 is heard again since 03:25; it was silent from 03:10.",
            Say(AlarmCondition.NoReading, AlarmSeverity.Warning, null, null, Now - Duration.FromMinutes(5), Plain with { Last = last }));
        Assert.Equal("No probe at all has been heard since 03:00: power, network or broker may be down.",
            Say(AlarmCondition.NothingFromAnyProbe, AlarmSeverity.Danger, null, null, null, Plain with { Last = last }));
    }

    [Theory]
    [InlineData(AlarmCondition.High, AlarmSeverity.Danger, 34.1, "Danger: Hazel, temperature high, 34.1 °C")]
    [InlineData(AlarmCondition.Low, AlarmSeverity.Warning, null, "Warning: Hazel, temperature low")]
    [InlineData(AlarmCondition.NoReading, AlarmSeverity.Warning, null, "Warning: Hazel, p1 is silent")]
    [InlineData(AlarmCondition.NothingFromAnyProbe, AlarmSeverity.Danger, null, "Danger: nothing heard from any probe")]
    public void Headline_is_one_line_with_gravity_first(AlarmCondition condition, AlarmSeverity severity, double? value, string line)
        => Assert.Equal(line, AlarmWords.Headline(Key(condition, severity), value, Plain));

    [Fact]
    public void Because_says_every_reason_differently()
        => Assert.Equal(Enum.GetValues<EndReason>().Length, Enum.GetValues<EndReason>().Select(AlarmWords.Because).Distinct().Count());

    private static string Say(AlarmCondition condition, AlarmSeverity severity, double? value, double? limit, Instant? back, WordsContext context)
        => AlarmWords.Sentence(Key(condition, severity), value, limit, Raised, back, Now, context);

    private static AlarmKey Key(AlarmCondition condition, AlarmSeverity severity)
        => new("hazel", condition == AlarmCondition.NoReading ? "p1" : "", condition is AlarmCondition.High or AlarmCondition.Low ? Quantity.Temperature : default, condition, severity);
}
