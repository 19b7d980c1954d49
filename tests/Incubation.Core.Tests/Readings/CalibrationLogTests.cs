using System.Collections.Immutable;
using CsCheck;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Readings;

public sealed class CalibrationLogTests
{
    private static readonly SeriesKey Series = new("hazel-air", Quantity.Temperature);
    private static readonly Instant Start = Instant.FromUtc(2026, 6, 1, 0, 0);

    [Fact]
    public void Any_order_of_calibrations_and_readings_gives_the_same_corrected_history()
    {
        Gen<Guid?[]> former = Gen.Int[-1, 7].Array[8].Select(all => all.Select((who, i) => who >= 0 && who != i ? Id(who) : (Guid?)null).ToArray());
        Gen<CalibrationEntry[]> calibrations =
            from days in Gen.Int[0, 5].Array[8]
            from offsets in Gen.Double[-2, 2].Array[8]
            from withdrawn in Gen.Bool.Array[8]
            from supersedes in former
            select Enumerable.Range(0, 8).Select(i => Entry(i, days[i], offsets[i], supersedes[i] is not null && withdrawn[i], supersedes[i])).ToArray();
        Gen<(CalibrationEntry[] Entered, CalibrationEntry[] Shuffled, Reading[] Read, Reading[] Mixed)> cases =
            from entered in calibrations
            from shuffled in Gen.Shuffle(entered)
            from hours in Gen.Int[0, 200].ArrayUnique[1, 30]
            let read = hours.Select(h => Reading(h, 30 + (h * 0.01))).ToArray()
            from mixed in Gen.Shuffle(read)
            select (entered, shuffled, read, mixed);

        cases.Sample(c =>
        {
            // One keeper entered everything first; for the other every step comes in another order, and reads before and after.
            Correction first = c.Entered.Aggregate(CalibrationLog.Empty, (log, entry) => log.With(entry)).CorrectionOf(Series);
            CalibrationLog log = CalibrationLog.Empty;
            foreach (CalibrationEntry entry in c.Shuffled)
            {
                log = log.With(entry).With(entry);
            }

            Reading[] one = [.. c.Read.Select(r => CorrectedHistory.Correct(r, first)).OrderBy(r => r.At)];
            Reading[] other = [.. c.Mixed.Select(r => CorrectedHistory.Correct(r, log.CorrectionOf(Series))).OrderBy(r => r.At)];
            Assert.Equal(one, other);
        });
    }

    [Fact]
    public void A_piece_is_that_of_the_holding_entry_entered_last_and_a_withdrawal_leaves_the_one_before()
    {
        CalibrationEntry june = Entry(1, 0, -0.4), july = Entry(2, 30, -0.6), again = Entry(3, 30, -0.7), gone = Entry(4, 30, 0, true, again.Id);
        CalibrationLog log = CalibrationLog.Empty.With(again).With(july).With(june);

        Assert.Equal(0, log.CorrectionOf(Series).Apply(Start - Duration.FromDays(1), 0));
        Assert.Equal(-0.4, log.CorrectionOf(Series).Apply(Start, 0), 1e-12);
        Assert.Equal(-0.7, log.CorrectionOf(Series).Apply(Start + Duration.FromDays(31), 0), 1e-12);
        Assert.Equal(-0.6, log.With(gone).CorrectionOf(Series).Apply(Start + Duration.FromDays(31), 0), 1e-12);
        Assert.False(log.With(gone).Holds(again));
        Assert.True(log.CorrectionOf(new SeriesKey("rowan-air", Quantity.Temperature)).IsNone);
    }

    [Fact]
    public void Two_points_are_met_exactly_by_slope_and_offset()
    {
        CalibrationEntry entry = Two(Quantity.Temperature, (0.3, 0), (30.9, 30));

        Assert.Equal(0, (entry.Gain * 0.3) + entry.Offset, 1e-12);
        Assert.Equal(30, (entry.Gain * 30.9) + entry.Offset, 1e-12);
    }

    [Theory]
    [InlineData(0.3, 0, 5.2, 5, "points", "apart")]
    [InlineData(0, 0, 20, 30, "points", "slope")]
    [InlineData(30, 0, 0, 30, "points", "slope")]
    [InlineData(10, 0, 10, 30, "points", "none at all")]
    [InlineData(3, 0, 33, 30, "sure", "Is that right?")]
    [InlineData(13, 0, 43, 30, "points", "broken probe")]
    [InlineData(-60, 0, 30, 30, "points", "What the probe said")]
    public void Check_refuses_nonsense_and_says_what_to_do(double m1, double t1, double m2, double t2, string field, string words)
        => Assert.Contains(
            CalibrationRules.Check(Two(Quantity.Temperature, (m1, t1), (m2, t2)), Start, sure: false),
            r => r.Refuses && r.Field == field && r.Words.Contains(words, StringComparison.Ordinal));

    [Fact]
    public void Check_takes_a_large_correction_once_the_keeper_is_sure_and_a_saturated_hygrometer_never()
    {
        Assert.DoesNotContain(CalibrationRules.Check(Two(Quantity.Temperature, (3, 0), (33, 30)), Start, sure: true), r => r.Refuses);
        CalibrationEntry wet = Entry(1, 0, 0) with
        {
            Series = new SeriesKey("p", Quantity.Humidity),
            Method = CalibrationMethod.SaturatedSalt,
            Points = [new CalibrationPoint(101, 97.3, "K2SO4", 25)],
        };
        Assert.Contains(CalibrationRules.Check(wet, Start, sure: true), r => r.Refuses && r.Words.Contains("saturated", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("door", CalibrationMethod.IceBath, 0, "quantity")]
    [InlineData("humidity", CalibrationMethod.IceBath, 0, "method")]
    [InlineData("temperature", CalibrationMethod.SaturatedSalt, 0, "method")]
    [InlineData("temperature", CalibrationMethod.IceBath, 3, "from")]
    public void Check_names_what_does_not_fit(string quantity, CalibrationMethod method, int ahead, string field)
    {
        CalibrationEntry entry = Entry(1, ahead, -0.1) with { Series = new SeriesKey("p", new Quantity(quantity)), Method = method };

        Assert.Contains(CalibrationRules.Check(entry, Start, sure: false), r => r.Refuses && r.Field == field);
    }

    [Fact]
    public void Words_say_what_was_compared_and_what_follows()
    {
        Assert.Equal("Ice bath: said 0.4, was 0 °C; what it measures is lowered by 0.4 °C.", CalibrationWords.Say(Entry(1, 0, -0.4)));
        Assert.All(Enum.GetValues<CalibrationMethod>(), method => Assert.Equal(method, CalibrationWords.MethodOf(CalibrationWords.Word(method))));
    }

    private static CalibrationEntry Entry(int number, int day, double offset, bool withdrawn = false, Guid? supersedes = null) => new(
        Id(number), Series, Start + Duration.FromDays(day), withdrawn ? CalibrationMethod.Withdrawn : CalibrationMethod.IceBath,
        withdrawn ? [] : [new CalibrationPoint(-offset, 0)], null, "", supersedes, "Ada", Start + Duration.FromHours(number));

    private static CalibrationEntry Two(Quantity quantity, (double, double) first, (double, double) second) => Entry(1, 0, 0) with
    {
        Series = new SeriesKey("p", quantity),
        Method = CalibrationMethod.ReferenceThermometer,
        Points = ImmutableArray.Create(new CalibrationPoint(first.Item1, first.Item2), new CalibrationPoint(second.Item1, second.Item2)),
    };

    private static Guid Id(int number) => new(number + 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0);

    private static Reading Reading(int hour, double value)
    {
        Instant at = Start - Duration.FromDays(1) + Duration.FromHours(hour);
        return new Reading(Series, value, at, at, ReadingMarks.None);
    }
}
