using Incubation.Core.Alarms;
using Incubation.Core.FirstScreen;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Alarms;

public sealed class OwnTroubleTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 1, 1, 0, 0);
    private static readonly WordsContext Plain = new("The egg room", null, DateTimeZone.Utc, Fahrenheit: false);

    private readonly List<AlarmChange> _changes = [];
    private readonly AlarmEngine _engine = new(Guid.NewGuid);

    [Fact]
    public void Judge_raises_a_trouble_once_and_returns_it_when_it_is_not_named_any_more()
    {
        Judge(0, true, "backup");
        Judge(1, true, "backup");
        AlarmChange raised = Assert.Single(_changes);
        Assert.Equal((AlarmStep.Raised, OwnTroubles.KeyOf("backup")), (raised.Step, raised.Key));
        Judge(2, true);
        Assert.Equal(AlarmStep.Returned, _changes[^1].Step);
        Assert.Equal(AlarmState.ReturnedUnacknowledged, _changes[^1].Alarm.State);
    }

    [Fact]
    public void Judge_at_night_raises_nothing_new_and_keeps_what_stands()
    {
        Judge(0, true, "backup");
        Judge(1, false, "backup", "certificate");
        Assert.Single(_changes);
        Assert.Equal(AlarmState.Unacknowledged, Assert.Single(_engine.Alarms).Value.State);
        Judge(2, true, "backup", "certificate");
        Assert.Equal(OwnTroubles.KeyOf("certificate"), _changes[^1].Key);
    }

    [Fact]
    public void Arrange_leaves_own_troubles_alone()
    {
        Judge(0, true, "backup");
        _engine.Arrange([], [], [], [], At(1), _changes);
        Assert.Equal(OwnTroubles.KeyOf("backup"), Assert.Single(_engine.Alarms).Key);
    }

    [Theory]
    [InlineData(7, false)]
    [InlineData(8, true)]
    [InlineData(20, true)]
    [InlineData(21, false)]
    [InlineData(3, false)]
    public void MayRaise_holds_by_day_only(int hour, bool may) => Assert.Equal(may, OwnTroubles.MayRaise(hour));

    [Theory]
    [InlineData("backup", "Warning: no good backup", "There has been no good backup for more than a day and a half; the alarm stands since 00:00.")]
    [InlineData("certificate", "Warning: the certificate ends soon", "The certificate that phones trust ends soon and is not renewed; the alarm stands since 00:00.")]
    [InlineData("from a later version", "Warning: from a later version", "The service reports: from a later version; the alarm stands since 00:00.")]
    public void Sentence_and_headline_name_the_trouble(string kind, string headline, string sentence)
    {
        AlarmKey key = OwnTroubles.KeyOf(kind);
        Assert.Equal(headline, AlarmWords.Headline(key, null, Plain));
        Assert.Equal(sentence, AlarmWords.Sentence(key, null, null, Start, null, Start + Duration.FromHours(1), Plain));
    }

    [Fact]
    public void Headline_says_a_trouble_once_with_its_cause_and_after_what_is_about_eggs()
    {
        var late = new ServiceTrouble(HeadlineTone.Warning, "The last good backup is two days old.", "The disk is full: make room.", "backup");
        AlarmFacts own = Facts(OwnTroubles.KeyOf("backup"));
        AlarmFacts eggs = Facts(new AlarmKey("hazel", "", Quantity.Temperature, AlarmCondition.High, AlarmSeverity.Warning)) with { IncubatorName = "Hazel" };

        Headline before = Write(late);
        Assert.Equal(late.Sentence, before.Sentence);
        Headline alone = Write(late, own);
        Assert.Equal("There has been no good backup for more than a day and a half.", alone.Sentence);
        Assert.Equal(late.Next, alone.Detail);
        Assert.Equal(own.Alarm.Occurrence, alone.Occurrence);
        Headline beside = Write(late, own, eggs);
        Assert.StartsWith("Hazel", beside.Sentence, StringComparison.Ordinal);
        Assert.DoesNotContain(late.Sentence, beside.Detail, StringComparison.Ordinal);
        Headline over = Write(null, own with { Alarm = own.Alarm with { State = AlarmState.ReturnedUnacknowledged, ReturnedAt = Start - Duration.FromMinutes(5) } });
        Assert.Equal("There is a good backup again; that was 5 minutes ago.", over.Sentence);
    }

    private static Headline Write(ServiceTrouble? trouble, params AlarmFacts[] alarms) => HeadlineWriter.Write(new FacilityFacts(
        Start, DateTimeZone.Utc, TemperatureScale.Celsius,
        [new IncubatorFacts("hazel", "Hazel", true, [new QuantityFacts(Quantity.Temperature, 31.4, ReadingQuality.Good, BandStanding.InBand, [])])],
        alarms, SomebodyIsCalled: true, Troubles: trouble is null ? [] : [trouble]));

    private static AlarmFacts Facts(AlarmKey key) => new(
        new StandingAlarm(Guid.NewGuid(), key, AlarmState.Unacknowledged, Start - Duration.FromHours(1), null, null, null, null, null, null, null), "", key.Probe);

    private static AlarmTime At(int seconds) => new(Start + Duration.FromSeconds(seconds), Duration.Zero);

    private void Judge(int seconds, bool mayRaise, params string[] kinds) => _engine.Judge(kinds.ToHashSet(), mayRaise, At(seconds), _changes);
}
