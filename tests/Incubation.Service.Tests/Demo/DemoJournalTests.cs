using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Service.Alarms;
using Incubation.Service.Demo;
using Incubation.Storage.Records;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Demo;

public sealed class DemoJournalTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 11, 25, 21, 30, 7);
    private static readonly DemoCalendar Calendar = new(Now, DateTimeZone.Utc);

    private static readonly HashSet<string> Events =
        [.. Enum.GetValues<AlarmStep>().Select(AlarmRows.Words), "called", "call failed"];

    private static readonly HashSet<string> States = [.. Enum.GetValues<AlarmState>().Select(AlarmRows.Words)];

    private static DemoJournalPage OfTheWeek(DemoWeek week, long seed) => DemoJournal.Replay(
        week.Readings, [.. DemoFacility.Incubators.Select(i => i.Key)], DemoDuty.Of("living", Calendar), DateTimeZone.Utc, new DemoIds(seed).Next);

    [Theory]
    [InlineData(1)]
    [InlineData(20_261_125)]
    [InlineData(987_654_321)]
    public void The_week_tells_of_the_power_cut_and_the_silent_probe_and_of_nothing_else(long seed)
    {
        var week = DemoWeek.Simulate(Now, seed);
        var page = OfTheWeek(week, seed);
        Assert.Empty(page.Standing);
        Assert.All(page.Lines, line => Assert.Contains((line.Incubator, line.Condition), new[] { ("hazel", "low"), ("linden", "no reading") }));
        Assert.All(page.Lines.Where(line => line.Condition == "low"), line => Assert.InRange(
            line.At, DemoWeek.PowerCut(week.Start), DemoWeek.PowerCut(week.Start) + Duration.FromHours(5)));
        HoldTogether(page.Lines);
        var raised = page.Lines.First(line => line is { Event: "raised", Severity: "warning", Condition: "low" });
        var readings = week.Readings.Where(r => r.Series == new SeriesKey("hazel-air", Quantity.Temperature));
        Assert.Contains(readings, r => r.At <= raised.At && r.At >= raised.At - Duration.FromMinutes(11) && r.Value < raised.Limit);
    }

    [Fact]
    public void Lines_use_the_events_and_states_of_the_alarm_desk_and_say_what_it_would_say()
    {
        var week = DemoWeek.Simulate(Now, 1);
        var lines = OfTheWeek(week, 1).Lines;
        Assert.All(lines, line => Assert.Contains(line.Event, Events));
        Assert.All(lines, line => Assert.Contains(line.FromState, States));
        Assert.All(lines, line => Assert.Contains(line.ToState, States));
        var raised = lines.First(line => line is { Event: "raised", Condition: "low" });
        Assert.Contains("Hazel: temperature is ", raised.Words, StringComparison.Ordinal);
        Assert.Contains("below its warning limit of 30.5 °C", raised.Words, StringComparison.Ordinal);
        Assert.StartsWith("Maren is on it. ", lines.First(line => line.Event == "answered").Words, StringComparison.Ordinal);
        Assert.Equal("Tobiasz was called by webhook.", lines.First(line => line is { Event: "called", By: "Tobiasz" }).Words);
    }

    [Fact]
    public void An_alarm_that_still_stands_at_the_end_is_handed_to_the_alarm_desk()
    {
        var cold = Enumerable.Range(0, 6).Select(i => Now + Duration.FromMinutes(5 * i))
            .Select(at => new Reading(new SeriesKey("hazel-air", Quantity.Temperature), 25, at, at, ReadingMarks.None)).ToList();
        var page = DemoJournal.Replay(cold, [DemoFacility.Hazel], DemoDuty.Of("living", Calendar), DateTimeZone.Utc, new DemoIds(1).Next);
        var standing = page.Standing.Single(state => AlarmRows.Key(state.Key) is { Condition: AlarmCondition.Low, Severity: AlarmSeverity.Danger });
        Assert.Equal(AlarmState.Acknowledged, AlarmRows.Snapshot(standing.Snapshot)!.State);
        Assert.Contains(page.Lines, line => line.Occurrence == AlarmRows.Snapshot(standing.Snapshot)!.Occurrence && line.Event == "raised");
    }

    /// <summary>Each occurrence begins raised, ends normal, and each of its steps begins where the one before ended.</summary>
    internal static void HoldTogether(IEnumerable<AlarmJournalRecord> lines)
    {
        Assert.All(lines.GroupBy(line => line.Occurrence), steps =>
        {
            Assert.Equal(("raised", "normal"), (steps.First().Event, steps.First().FromState));
            Assert.Equal("normal", steps.Last().ToState);
            Assert.All(steps.Zip(steps.Skip(1)), pair =>
            {
                Assert.Equal(pair.First.ToState, pair.Second.FromState);
                Assert.True(pair.First.At <= pair.Second.At);
            });
        });
    }
}
