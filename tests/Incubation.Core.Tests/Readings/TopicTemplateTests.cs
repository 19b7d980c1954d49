using CsCheck;
using Incubation.Core.Readings;
using Xunit;

namespace Incubation.Core.Tests.Readings;

public sealed class TopicTemplateTests
{
    private static readonly string[] Parts = ["incubation", "/", "/", "/", "hazel", "p7", "temperature", "status", "alarm", "+", "\0", "é"];

    [Theory]
    [InlineData("incubation/hazel/hazel-air/temperature", "hazel", "hazel-air", "temperature")]
    [InlineData("incubation/hazel/p 7 ü/humidity", "hazel", "p 7 ü", "humidity")]
    [InlineData("incubation/hazel/p7/co2-ppm", "hazel", "p7", "co2-ppm")]
    public void Match_reading_gives_the_names(string topic, string incubator, string probe, string quantity) =>
        Assert.Equal(new TopicMatch(TopicKind.Reading, incubator, probe, new Quantity(quantity), null), Parsed().Match(topic));

    [Fact]
    public void Match_other_shapes_work_with_parts_in_any_place()
    {
        Assert.Equal(
            new TopicMatch(TopicKind.Reading, null, "p7", Quantity.Temperature, null),
            Parsed("farm/{quantity}/of/{probe}").Match("farm/temperature/of/p7"));
        Assert.Equal(["farm/+/of/+"], Parsed("farm/{quantity}/of/{probe}").Filters);
        Assert.Equal(["incubation/+/+/+"], Parsed().Filters);
    }

    [Theory]
    [InlineData("tele/board-{probe}/SENSOR", "tele/board-p7/SENSOR", TopicKind.Reading, "p7")]
    [InlineData("tele/board-{probe}/SENSOR", "tele/board-p7/SENSOR/status", TopicKind.ProbeStatus, "p7")]
    [InlineData("tele/board-{probe}/SENSOR", "tele/board-p7/STATE", TopicKind.Unreadable, null)]
    [InlineData("tele/board-{probe}/SENSOR", "tele/board-/SENSOR", TopicKind.Unreadable, null)]
    [InlineData("tele/board-{probe}/SENSOR", "tele/p7/SENSOR", TopicKind.Unreadable, null)]
    [InlineData("tele/board-{probe}/SENSOR", "tele/board-p7", TopicKind.Unreadable, null)]
    [InlineData("tele/board-{probe}/SENSOR", "stat/board-p7/SENSOR", TopicKind.Elsewhere, null)]
    [InlineData("{any}/{incubator}/{probe}.json", "x y/hazel/p7.json", TopicKind.Reading, "p7")]
    [InlineData("{any}/{incubator}/{probe}.json", "x y/hazel/p7.json/status", TopicKind.ProbeStatus, "p7")]
    [InlineData("{any}/{incubator}/{probe}.json", "$x/hazel/p7.json", TopicKind.Elsewhere, null)]
    [InlineData("{probe}", "p7", TopicKind.Reading, "p7")]
    [InlineData("{probe}", "p7/status", TopicKind.ProbeStatus, "p7")]
    [InlineData("{probe}", "status", TopicKind.Reading, "status")]
    [InlineData("farm/{probe}", "farm/status", TopicKind.Reading, "status")]
    [InlineData("farm/{probe}/q-{quantity}", "farm/p7/q-status", TopicKind.ProbeStatus, "p7")]
    [InlineData("aXa{probe}aXa", "aXaXa", TopicKind.Elsewhere, null)]
    public void Match_templates_may_have_fixed_text_around_a_part_and_no_quantity(string template, string topic, TopicKind kind, string? probe)
    {
        TopicMatch match = Parsed(template).Match(topic);

        Assert.Equal((kind, probe), (match.Kind, match.Probe));
        Assert.Null(match.Quantity.Name);
    }

    [Fact]
    public void Filters_hear_status_topics_too_and_each_topic_once() =>
        Assert.Equal(["tele/+/SENSOR", "tele/+/SENSOR/status"], Parsed("tele/board-{probe}/SENSOR").Filters);

    [Theory]
    [InlineData("incubation/hazel/p7/status", TopicKind.ProbeStatus)]
    [InlineData("incubation/hazel/alarm", TopicKind.ServiceAlarm)]
    [InlineData("garden/pump", TopicKind.Elsewhere)]
    [InlineData("garden/hazel/p7/temperature", TopicKind.Elsewhere)]
    [InlineData("$SYS/broker/uptime", TopicKind.Elsewhere)]
    [InlineData("", TopicKind.Elsewhere)]
    [InlineData("incubation", TopicKind.Elsewhere)]
    [InlineData("incubation/p7/temperature", TopicKind.Unreadable)]
    [InlineData("incubation/hazel/p7/temperature/raw", TopicKind.Unreadable)]
    [InlineData("incubation/hazel/p7/temperature/", TopicKind.Unreadable)]
    [InlineData("incubation//p7/temperature", TopicKind.Unreadable)]
    [InlineData("incubation/hazel//temperature", TopicKind.Unreadable)]
    [InlineData("incubation/hazel/ /temperature", TopicKind.Unreadable)]
    [InlineData("incubation/hazel/p\u0007/temperature", TopicKind.Unreadable)]
    [InlineData("incubation/hazel/p7/", TopicKind.Unreadable)]
    [InlineData("incubation/hazel/p7/Temperature", TopicKind.Unreadable)]
    [InlineData("incubation/hazel/p7/soil_moisture", TopicKind.Unreadable)]
    public void Match_tells_what_a_topic_is_for(string topic, TopicKind kind)
    {
        TopicMatch match = Parsed().Match(topic);

        Assert.Equal(kind, match.Kind);
        Assert.Equal(kind == TopicKind.Unreadable, match.Reason is not null);
        Assert.Equal(kind == TopicKind.ProbeStatus ? "p7" : null, match.Probe);
    }

    [Fact]
    public void Match_names_and_topics_over_the_bounds_are_unreadable()
    {
        Assert.Equal(TopicKind.Reading, Parsed().Match($"incubation/h/{new string('p', 80)}/{new string('q', 40)}").Kind);
        Assert.Equal(TopicKind.Unreadable, Parsed().Match($"incubation/h/{new string('p', 81)}/temperature").Kind);
        Assert.Equal(TopicKind.Unreadable, Parsed().Match($"incubation/h/p/{new string('q', 41)}").Kind);
        Assert.Contains("too long", Parsed().Match($"incubation/{new string('ü', 300)}/p/temperature").Reason, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("incubation/{quantity}/{probe}/{quantity}", "{quantity}")]
    [InlineData("incubation/{quantity}", "{probe}")]
    [InlineData("{probe}/{probe}/{quantity}", "{probe}")]
    [InlineData("{incubator}/{incubator}/{probe}/{quantity}", "{incubator}")]
    [InlineData("farm//{probe}/{quantity}", "empty level")]
    [InlineData("farm/+/{probe}/{quantity}", "+")]
    [InlineData("farm/p-{probe}/{probe}/{quantity}", "{probe} once")]
    [InlineData("farm/{probe}-{quantity}", "{probe}-{quantity}")]
    [InlineData("farm/{prob}/{quantity}", "{any}")]
    [InlineData("farm/}probe{/{quantity}", "}probe{")]
    [InlineData("$farm/{probe}/{quantity}", "$")]
    [InlineData("farm/{quantity}", "{probe}")]
    [InlineData("", "empty level")]
    public void TryParse_wrong_template_says_what_is_needed(string template, string words)
    {
        Assert.False(TopicTemplate.TryParse(template, out TopicTemplate? parsed, out string? reason));
        Assert.Null(parsed);
        Assert.Contains(words, reason, StringComparison.Ordinal);
    }

    [Fact]
    public void Match_any_text_never_throws_and_a_reading_always_has_a_probe() =>
        Gen.Int[0, Parts.Length - 1].Select(i => Parts[i]).Array[0, 9].Sample(parts =>
        {
            TopicMatch match = Parsed().Match(string.Concat(parts));
            Assert.Equal(match.Kind is TopicKind.Reading or TopicKind.ProbeStatus, match.Probe is not null);
        });

    private static TopicTemplate Parsed(string template = TopicTemplate.Default)
    {
        Assert.True(TopicTemplate.TryParse(template, out TopicTemplate? parsed, out string? reason), reason);
        return parsed!;
    }
}
