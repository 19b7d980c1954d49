using CsCheck;
using Incubation.Core.Alarms;
using Incubation.Core.FirstScreen;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.FirstScreen;

public sealed class HeadlineTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 3, 0);
    private static readonly QuantityFacts Good = new(Quantity.Temperature, 31.4, ReadingQuality.Good, BandStanding.InBand, []);
    private static readonly IncubatorFacts Hazel = new("hazel", "Hazel", true, [Good]);
    private static readonly IncubatorFacts Rowan = new("rowan", "Rowan", true, [Good with { Value = 31.8 }]);

    [Fact]
    public void Write_all_in_band_and_someone_to_call_is_calm()
    {
        Headline headline = Write([Hazel, Rowan]);
        Assert.Equal(HeadlineTone.Calm, headline.Tone);
        Assert.Equal("All is well: all 2 incubators are in their bands.", headline.Sentence);
        Assert.Equal("Temperatures from 31.4 °C to 31.8 °C.", headline.Detail);
    }

    [Theory]
    [InlineData(null, "Nothing to do.")]
    [InlineData("1 probe is heard but not placed: say where it is.", "1 probe is heard but not placed: say where it is.")]
    public void Write_calm_says_the_first_thing_to_do_when_there_is_one(string? toDo, string next)
    {
        Headline headline = HeadlineWriter.Write(new FacilityFacts(Now, DateTimeZone.Utc, TemperatureScale.Celsius, [Hazel], [], SomebodyIsCalled: true, toDo));
        Assert.Equal((HeadlineTone.Calm, next), (headline.Tone, headline.Next));
    }

    [Fact]
    public void Write_all_in_band_by_a_clock_that_is_not_trusted_is_never_calm()
    {
        Headline headline = HeadlineWriter.Write(new FacilityFacts(
            Now, DateTimeZone.Utc, TemperatureScale.Celsius, [Hazel], [], SomebodyIsCalled: true, ClockDoubt: "It jumped back."));
        Assert.Equal(HeadlineTone.Warning, headline.Tone);
        Assert.StartsWith("Hazel is in its band, but the clock of this machine is not trusted", headline.Sentence, StringComparison.Ordinal);
        Assert.Equal("It jumped back.", headline.Detail);
    }

    [Fact]
    public void Write_all_in_band_but_nobody_to_call_is_a_warning()
    {
        Headline headline = Write([Hazel], reachable: false);
        Assert.Equal((HeadlineTone.Warning, "Hazel is in its band, but nobody would be called if that changed."), (headline.Tone, headline.Sentence));
    }

    public static TheoryData<string, QuantityFacts> NotKnown => new()
    {
        { "The temperature of Hazel is not known: its probe is silent.", Good with { Quality = ReadingQuality.Silent, Standing = BandStanding.NotJudged } },
        { "The temperature of Hazel is not known: its probe is faulty.", Good with { Quality = ReadingQuality.Faulty, Standing = BandStanding.NotJudged } },
        { "The temperature of Hazel is not known: nothing has been heard yet.", new QuantityFacts(Quantity.Temperature, null, ReadingQuality.Unknown, BandStanding.NotJudged, []) },
        { "The temperature of Hazel is measured but not watched: it has no band.", Good with { Standing = BandStanding.NotJudged } },
        { "In Hazel, hazel-eggs sends no good temperature.", Good with { Unheard = ["hazel-eggs"] } },
    };

    [Theory]
    [MemberData(nameof(NotKnown))]
    public void Write_something_not_known_says_so(string sentence, QuantityFacts facts)
    {
        Headline headline = Write([Rowan, Hazel with { Quantities = [facts] }]);
        Assert.Equal((HeadlineTone.Unknown, sentence, "hazel"), (headline.Tone, headline.Sentence, headline.Incubator));
    }

    [Fact]
    public void Write_an_incubator_without_a_probe_says_so()
        => Assert.Equal("Hazel has no probe: nobody knows how warm it is there.", Write([Rowan, Hazel with { HasProbe = false }]).Sentence);

    [Fact]
    public void Write_outside_before_the_alarm_is_raised_is_a_warning()
    {
        Headline headline = Write([Hazel with { Quantities = [Good with { Value = 32.8, Standing = BandStanding.WarningHigh }] }]);
        Assert.Equal((HeadlineTone.Warning, "Hazel is at 32.8 °C, above its band."), (headline.Tone, headline.Sentence));
    }

    [Theory]
    [InlineData(AlarmCondition.High, 34.1, 33.5, "Hazel is too warm: 34.1 °C, 0.6 °C above the danger limit of 33.5 °C, for 12 minutes.")]
    [InlineData(AlarmCondition.Low, 28.0, 29.5, "Hazel is too cold: 28.0 °C, 1.5 °C below the danger limit of 29.5 °C, for 12 minutes.")]
    [InlineData(AlarmCondition.High, 33.4, 33.5, "Hazel is too warm: 33.4 °C, back below the danger limit of 33.5 °C, for 12 minutes.")]
    public void Write_an_alarm_says_what_where_by_how_much_and_how_long(AlarmCondition condition, double value, double limit, string sentence)
    {
        Headline headline = Write([Hazel], Alarm(condition: condition, value: value, limit: limit));
        Assert.Equal((HeadlineTone.Danger, sentence), (headline.Tone, headline.Sentence));
        Assert.Equal("Nobody has answered. Mara is called at 04:03.", headline.Next);
    }

    [Fact]
    public void Write_an_answered_alarm_says_who_has_it()
    {
        AlarmFacts alarm = Alarm();
        alarm = alarm with { Alarm = alarm.Alarm with { State = AlarmState.Acknowledged, AnsweredBy = "Ada", AnsweredAt = Now, NextCall = null } };
        Assert.Equal("Ada is on it since 04:00.", Write([Hazel], alarm).Next);
    }

    [Fact]
    public void Write_what_came_back_unanswered_is_still_said()
    {
        AlarmFacts alarm = Alarm();
        alarm = alarm with
        {
            Alarm = alarm.Alarm with { State = AlarmState.ReturnedUnacknowledged, ReturnedAt = Now - Duration.FromMinutes(5), Peak = 35.2, NextCall = null },
        };
        Headline headline = Write([Hazel], alarm);
        Assert.Equal((HeadlineTone.Warning, "Hazel was too warm, up to 35.2 °C, and came back 5 minutes ago."), (headline.Tone, headline.Sentence));
    }

    [Fact]
    public void Write_an_unanswered_warning_comes_before_an_answered_danger_but_the_tone_stays_danger()
    {
        AlarmFacts danger = Alarm();
        danger = danger with { Alarm = danger.Alarm with { State = AlarmState.Acknowledged, AnsweredBy = "Ada" } };
        AlarmFacts warning = Alarm(incubator: "rowan", name: "Rowan", severity: AlarmSeverity.Warning, value: 32.8, limit: 32.5);
        Headline headline = Write([Hazel, Rowan], danger, warning);
        Assert.Equal(HeadlineTone.Danger, headline.Tone);
        Assert.StartsWith("Rowan is too warm", headline.Sentence, StringComparison.Ordinal);
        Assert.StartsWith("Also: Hazel is too warm", headline.Detail, StringComparison.Ordinal);
    }

    [Fact]
    public void Write_nothing_from_any_probe_names_the_usual_causes()
    {
        AlarmFacts alarm = new(
            Alarm().Alarm with { Key = new AlarmKey("", "", default, AlarmCondition.NothingFromAnyProbe, AlarmSeverity.Danger), Value = null, Limit = null }, "", "");
        Headline headline = Write([Hazel], alarm);
        Assert.Equal("Nothing is heard from any probe, for 12 minutes: look at the mains, the network and this service's machine.", headline.Sentence);
        Assert.Null(headline.Incubator);
    }

    [Fact]
    public void Write_a_service_that_does_not_work_comes_before_everything_but_a_standing_alarm()
    {
        ServiceTrouble deaf = new(HeadlineTone.Warning, "Listening is broken: no reading can arrive.", "Look at the broker.");
        Headline alone = Troubled([]);
        Assert.Equal((HeadlineTone.Warning, deaf.Sentence, deaf.Next), (alone.Tone, alone.Sentence, alone.Next));

        Headline standing = Troubled([Alarm()]);
        Assert.StartsWith("Hazel", standing.Sentence, StringComparison.Ordinal);
        Assert.StartsWith(deaf.Sentence, standing.Detail, StringComparison.Ordinal);

        AlarmFacts stands = Alarm();
        Headline over = Troubled([stands with { Alarm = stands.Alarm with { State = AlarmState.ReturnedUnacknowledged } }]);
        Assert.Equal(deaf.Sentence, over.Sentence);
        Assert.StartsWith("Also: Hazel", over.Detail, StringComparison.Ordinal);

        Headline Troubled(AlarmFacts[] alarms)
            => HeadlineWriter.Write(new FacilityFacts(Now, DateTimeZone.Utc, TemperatureScale.Celsius, [Hazel], alarms, SomebodyIsCalled: true, Troubles: [deaf]));
    }

    [Fact]
    public void Write_is_calm_only_when_everything_is_known_in_band_and_someone_is_called()
        => Gen.Select(Gen.Select(Gen.Enum<ReadingQuality>(), Gen.Enum<BandStanding>(), Gen.Bool, Gen.Bool).Array[0, 4], Gen.Bool, Gen.Bool)
            .Sample((incubators, reachable, alarmed) =>
            {
                IncubatorFacts[] facts = [.. incubators.Select((i, n) => new IncubatorFacts($"k{n}", $"Name {n}", i.Item3,
                    [new QuantityFacts(Quantity.Temperature, 31, i.Item1, i.Item2, i.Item4 ? ["other"] : [])]))];
                bool well = facts.Length > 0 && reachable && !alarmed
                    && incubators.All(i => i is (ReadingQuality.Good, BandStanding.InBand, true, false));
                Headline headline = Write(facts, reachable, alarmed ? [Alarm()] : []);
                Assert.Equal(well, headline.Tone == HeadlineTone.Calm);
                Assert.Equal(well, headline.Sentence.Contains("well", StringComparison.Ordinal));
                Assert.NotEmpty(headline.Next);
            });

    [Theory]
    [InlineData(StoreKind.Refusing, false, "Readings can't be kept: the probes are told to send them again.")]
    [InlineData(StoreKind.Spooling, false, "Readings wait in the spool file, since the database can't be written.")]
    [InlineData(StoreKind.Well, true, "The disk is nearly full.")]
    public void Write_a_store_in_trouble_is_the_headline_when_all_else_is_well(StoreKind kind, bool nearlyFull, string sentence)
    {
        Headline headline = Write(Hazel, Trouble(kind, nearlyFull));
        Assert.Equal((HeadlineTone.Warning, sentence, "The disk is full."), (headline.Tone, headline.Sentence, headline.Next));
    }

    [Fact]
    public void Write_a_store_in_trouble_is_a_detail_beside_anything_about_the_eggs()
    {
        Headline alarm = Write(Hazel, Trouble(StoreKind.Refusing), Alarm());
        Assert.Equal((HeadlineTone.Danger, "The disk is full."), (alarm.Tone, alarm.Detail));
        Headline two = Write(Hazel, Trouble(StoreKind.Refusing), Alarm(), Alarm("rowan", "Rowan"));
        Assert.EndsWith(" The disk is full.", two.Detail, StringComparison.Ordinal);
        Headline unknown = Write(Hazel with { HasProbe = false }, Trouble(StoreKind.Spooling));
        Assert.Equal((HeadlineTone.Unknown, "The disk is full."), (unknown.Tone, unknown.Detail));
    }

    [Fact]
    public void Write_a_store_that_is_well_is_not_spoken_of()
        => Assert.Equal(Write([Hazel]), Write(Hazel, Trouble(StoreKind.Well)));

    private static StoreState Trouble(StoreKind kind, bool nearlyFull = false) => new(kind, Now, "The disk is full.", 0, 0, nearlyFull);

    private static Headline Write(IncubatorFacts incubator, StoreState store, params AlarmFacts[] alarms) => HeadlineWriter.Write(
        new FacilityFacts(Now, DateTimeZoneProviders.Tzdb["Europe/Berlin"], TemperatureScale.Celsius, [incubator], alarms, SomebodyIsCalled: true, Store: store));

    private static Headline Write(IReadOnlyList<IncubatorFacts> incubators, params AlarmFacts[] alarms) => Write(incubators, true, alarms);

    private static Headline Write(IReadOnlyList<IncubatorFacts> incubators, bool reachable, params AlarmFacts[] alarms)
        => HeadlineWriter.Write(new FacilityFacts(Now, DateTimeZoneProviders.Tzdb["Europe/Berlin"], TemperatureScale.Celsius, incubators, alarms, reachable));

    private static AlarmFacts Alarm(
        string incubator = "hazel", string name = "Hazel", AlarmCondition condition = AlarmCondition.High,
        AlarmSeverity severity = AlarmSeverity.Danger, double value = 34.1, double limit = 33.5)
        => new(
            new StandingAlarm(
                Guid.NewGuid(), new AlarmKey(incubator, "", Quantity.Temperature, condition, severity), AlarmState.Unacknowledged,
                Now - Duration.FromMinutes(12), value, limit, value, null, null, null, new NextCall("Mara", Now + Duration.FromMinutes(3))),
            name, "");
}
