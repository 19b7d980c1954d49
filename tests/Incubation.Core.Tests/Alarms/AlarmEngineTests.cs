using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Alarms;

public sealed class AlarmEngineTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 1, 1, 0, 0);

    private static readonly Band Warm = new(
        "a", Quantity.Temperature, 29.5, 30.5, 32.5, 33.5, 0.2,
        Duration.FromSeconds(300), Duration.FromSeconds(60), Duration.FromSeconds(120), Duration.FromSeconds(600));

    private readonly List<AlarmChange> _changes = [];
    private readonly AlarmEngine _engine;
    private byte _id;

    public AlarmEngineTests() => _engine = new AlarmEngine(() => new Guid(++_id, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0));

    [Fact]
    public void Danger_is_raised_when_its_on_delay_ends_without_another_reading()
    {
        Place("p1");
        Hear("p1", 34, 0);
        Assert.Equal(Start + Duration.FromSeconds(60), _engine.Next);
        Advance(59);
        Assert.Empty(_changes);
        Advance(60);
        AlarmChange raised = Assert.Single(_changes);
        Assert.Equal((AlarmStep.Raised, AlarmSeverity.Danger, AlarmCondition.High), (raised.Step, raised.Key.Severity, raised.Key.Condition));
    }

    [Fact]
    public void Answering_the_warning_never_changes_the_danger()
    {
        Place("p1");
        Hear("p1", 34, 0);
        Advance(300);
        Guid warning = _engine.Alarms.Single(a => a.Key.Severity == AlarmSeverity.Warning).Value.Occurrence;
        Assert.NotNull(_engine.Answer(warning, "Ada", At(301), out _));
        Assert.Equal(AlarmState.Unacknowledged, _engine.Alarms.Single(a => a.Key.Severity == AlarmSeverity.Danger).Value.State);
        Assert.Null(_engine.Answer(warning, "Bo", At(302), out AlarmSnapshot? standing));
        Assert.Equal("Ada", standing!.AnsweredBy);
    }

    [Fact]
    public void High_is_judged_by_the_highest_fresh_probe_and_low_by_the_lowest()
    {
        Place("p1", "p2");
        Hear("p1", 34, 0);
        Hear("p2", 29, 0);
        Advance(60);
        Assert.Equal(
            [AlarmCondition.High, AlarmCondition.Low],
            _changes.Where(c => c.Key.Severity == AlarmSeverity.Danger).Select(c => c.Key.Condition).Order());
    }

    [Fact]
    public void A_faulty_reading_neither_raises_nor_clears_and_its_probe_falls_silent()
    {
        Place("p1", "p2");
        Hear("p1", 34, 0);
        Advance(60);
        _changes.Clear();
        for (int s = 60; s <= 660; s += 60)
        {
            Hear("p1", 31, s, ReadingMarks.Faulty);
            Hear("p2", double.NaN, s, ReadingMarks.Faulty);
            Advance(s);
        }

        Assert.DoesNotContain(_changes, c => c.Step == AlarmStep.Returned);
        Assert.Contains(_changes, c => c.Key.Condition == AlarmCondition.NoReading && c.Key.Probe == "p1");
    }

    [Theory]
    [InlineData(-200)]
    [InlineData(0)]
    [InlineData(240)]
    public void A_probe_that_sends_one_old_reading_again_and_again_is_silent(int clockAhead)
    {
        Place("p1", "p2");
        for (int s = 0; s <= 1_200; s += 30)
        {
            Instant measured = Start + Duration.FromSeconds(clockAhead);
            _engine.Observe(new Reading(new SeriesKey("p1", Quantity.Temperature), 31, measured, At(s).Steady, ReadingMarks.None), At(s), _changes);
            Hear("p2", 31, s);
            Advance(s);
        }

        AlarmChange raised = Assert.Single(_changes);
        Assert.Equal((AlarmCondition.NoReading, "p1", AlarmStep.Raised), (raised.Key.Condition, raised.Key.Probe, raised.Step));
        // Counted from its placing at the earliest; a reading from the future counts as measured when it first came.
        Assert.InRange(raised.At, At(600).Steady, At(630).Steady);
    }

    [Fact]
    public void All_probes_silent_is_one_danger_and_ends_with_the_first_reading()
    {
        Place("p1", "p2");
        Hear("p1", 31, 0);
        Hear("p2", 31, 100);
        Advance(600);
        Assert.DoesNotContain(_changes, c => c.Key == AlarmEngine.NothingHeard);
        Advance(700);
        Assert.Contains(_changes, c => c.Key == AlarmEngine.NothingHeard && c.Step == AlarmStep.Raised);
        Hear("p1", 31, 800);
        Assert.Contains(_changes, c => c.Key == AlarmEngine.NothingHeard && c.Step == AlarmStep.Returned);
    }

    [Fact]
    public void A_probe_whose_thermometer_died_is_not_excused_by_its_hygrometer()
    {
        Band damp = Warm with { Quantity = Quantity.Humidity, DangerLow = 20, WarningLow = 30, WarningHigh = null, DangerHigh = null };
        _engine.Arrange(["a"], [Warm, damp], [new ProbePlace("p1", "a")], [], At(0), _changes);
        Hear("p1", 31, 0);
        for (int s = 0; s <= 600; s += 100)
        {
            _engine.Observe(new Reading(new SeriesKey("p1", Quantity.Humidity), 75, Start + Duration.FromSeconds(s), Start + Duration.FromSeconds(s),
                ReadingMarks.None), At(s), _changes);
        }

        Advance(600);
        Assert.Contains(_changes, c => c.Key.Condition == AlarmCondition.NoReading);
    }

    [Fact]
    public void A_probe_not_heard_since_it_was_placed_is_missed_after_the_time_of_the_band_as_it_is_now()
    {
        Place("p1");
        _engine.Arrange(["a"], [Warm with { SilentAfter = Duration.FromSeconds(20) }], [new ProbePlace("p1", "a")], [], At(1), _changes);
        Hear("p1", -127, 5, ReadingMarks.Faulty);
        Advance(20);
        Assert.Contains(_changes, c => c.Key.Condition == AlarmCondition.NoReading && c.Key.Probe == "p1");
    }

    [Fact]
    public void A_reading_that_arrives_too_late_to_be_fresh_is_not_judged()
    {
        Place("p1");
        _engine.Observe(new Reading(new SeriesKey("p1", Quantity.Temperature), 40, Start - Duration.FromHours(1), Start, ReadingMarks.None), At(0), _changes);
        Advance(500);
        Assert.Empty(_changes);
    }

    [Fact]
    public void Changing_the_band_so_that_the_value_is_inside_ends_the_alarm_and_says_why()
    {
        Place("p1");
        Hear("p1", 34, 0);
        Advance(60);
        _changes.Clear();
        _engine.Arrange(["a"], [Warm with { WarningHigh = 34.5, DangerHigh = 35 }], [new ProbePlace("p1", "a")], [], At(61), _changes);
        Assert.Equal((AlarmStep.Ended, EndReason.BandChanged), Assert.Single(_changes) is { } c ? (c.Step, c.Reason) : default);
        Assert.Empty(_engine.Alarms);
    }

    [Fact]
    public void Retiring_the_incubator_ends_its_alarms_and_a_new_neighbour_leaves_a_running_delay_alone()
    {
        Place("p1");
        Hear("p1", 34, 0);
        _engine.Arrange(["a", "b"], [Warm, Warm with { Incubator = "b" }], [new ProbePlace("p1", "a"), new ProbePlace("p2", "a")], [], At(30), _changes);
        Advance(60);
        Assert.Single(_changes, c => c.Step == AlarmStep.Raised);
        _engine.Arrange(["b"], [Warm with { Incubator = "b" }], [], [], At(70), _changes);
        Assert.Contains(_changes, c => c.Step == AlarmStep.Ended && c.Reason == EndReason.IncubatorRetired);
        Assert.Empty(_engine.Alarms);
    }

    [Fact]
    public void Coming_again_before_an_answer_is_the_same_occurrence_announced_anew()
    {
        Place("p1");
        Hear("p1", 34, 0);
        Advance(60);
        Hear("p1", 31, 70);
        Advance(190);
        Assert.Equal(AlarmState.ReturnedUnacknowledged, _changes[^1].Alarm.State);
        Hear("p1", 34, 200);
        Advance(260);
        Assert.Equal(AlarmStep.RaisedAgain, _changes[^1].Step);
        Assert.Equal(_changes[0].Alarm.Occurrence, _changes[^1].Alarm.Occurrence);
        Assert.Equal(Start + Duration.FromSeconds(260), _changes[^1].Alarm.CallingSince);
    }

    [Fact]
    public void A_reading_that_changes_nothing_allocates_nothing()
    {
        Place("p1");
        var reading = new Reading(new SeriesKey("p1", Quantity.Temperature), 31, Start, Start, ReadingMarks.None);
        for (int i = 0; i < 100; i++)
        {
            _engine.Observe(reading, At(i), _changes);
        }

        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 100; i < 1100; i++)
        {
            _engine.Observe(reading, At(i), _changes);
        }

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    private static AlarmTime At(int seconds) => new(Start + Duration.FromSeconds(seconds), Duration.Zero);

    private void Place(params string[] probes)
        => _engine.Arrange(["a"], [Warm], probes.Select(p => new ProbePlace(p, "a")), [], At(0), _changes);

    private void Hear(string probe, double value, int seconds, ReadingMarks marks = ReadingMarks.None)
    {
        Instant at = Start + Duration.FromSeconds(seconds);
        _engine.Observe(new Reading(new SeriesKey(probe, Quantity.Temperature), value, at, at, marks), At(seconds), _changes);
    }

    private void Advance(int seconds) => _engine.Advance(At(seconds), _changes);
}
