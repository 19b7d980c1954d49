using CsCheck;
using Incubation.Core.Candling;
using Incubation.Core.Development;
using Incubation.Core.Review;
using Incubation.Core.Tests.Development;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Review;

public sealed class ExcursionTests
{
    private static readonly BandSpan[] Band = [new(Histories.Hour(-100), Histories.Hour(10_000), 30, 33)];

    [Fact]
    public void Find_takes_crossings_exactly()
    {
        // 32 → 36 over 4 h crosses 33 after 1 h; back over 2 h crosses 33 after 1.5 h: a triangle 3 high and 4.5 h wide.
        Excursion found = Assert.Single(Excursions.Find(Histories.Line((0, 32), (4, 36), (6, 32)), Band));

        Assert.Equal((Side.Above, Histories.Hour(1), Histories.Hour(5.5)), (found.Side, found.From, found.Until));
        Assert.Equal((36.0, Histories.Hour(4)), (found.Peak, found.PeakAt));
        Assert.Equal(3 * 4.5 / 2, found.DegreeHours, 1e-9);
        Assert.False(found.OpenStart || found.OpenEnd);
    }

    [Fact]
    public void Find_of_one_line_through_both_limits_tells_both_sides() =>
        Assert.Equal([Side.Below, Side.Above], Excursions.Find(Histories.Line((0, 29), (5, 34)), Band).Select(found => found.Side));

    [Fact]
    public void Find_of_a_record_that_ends_out_of_band_says_that_it_may_have_been_longer()
    {
        Trace trace = Trace.FromReadings(
            [new(Histories.Hour(0), 32), new(Histories.Hour(1), 35), new(Histories.Hour(5), 35), new(Histories.Hour(6), 32)], Histories.Bridge);
        IReadOnlyList<Excursion> found = Excursions.Find(trace, Band, Duration.FromHours(10));

        Assert.Equal([(false, true), (true, false)], found.Select(f => (f.OpenStart, f.OpenEnd)));
    }

    [Fact]
    public void Find_joins_stretches_that_are_near_when_asked()
    {
        Trace trace = Histories.Line((0, 32), (1, 34), (2, 32), (3, 34), (4, 32));

        Assert.Equal(2, Excursions.Find(trace, Band).Count);
        Excursion joined = Assert.Single(Excursions.Find(trace, Band, Duration.FromHours(1)));
        Assert.Equal(Exposure.Of(trace, Band).DegreeHoursAbove, joined.DegreeHours, 1e-9);
    }

    [Fact]
    public void Exposure_is_additive_over_time_and_equals_its_excursions() =>
        Gen.Select(Histories.Readings, Gen.Double[0, 1]).Sample((readings, share) =>
        {
            Trace trace = Trace.FromReadings(readings, Histories.Bridge);
            Instant from = readings[0].At, until = readings[^1].At, cut = from + ((until - from) * share);
            Exposure whole = Exposure.Of(trace, Band);
            Exposure parts = Exposure.Of(trace.Between(from, cut), Band) + Exposure.Of(trace.Between(cut, until), Band);
            Assert.Equal(whole.DegreeHoursAbove, parts.DegreeHoursAbove, 1e-8);
            Assert.Equal(whole.DegreeHoursBelow, parts.DegreeHoursBelow, 1e-8);
            Assert.Equal(whole.HoursAbove + whole.HoursBelow, parts.HoursAbove + parts.HoursBelow, 1e-8);
            Assert.Equal(whole.KnownHours, parts.KnownHours, 1e-8);
            IReadOnlyList<Excursion> found = Excursions.Find(trace, Band);
            Assert.Equal(whole.DegreeHoursAbove + whole.DegreeHoursBelow, found.Sum(f => f.DegreeHours), 1e-8);
            Assert.Equal(whole.HoursAbove + whole.HoursBelow, found.Sum(f => f.Length.TotalHours), 1e-8);
        });

    [Fact]
    public void Exposure_does_not_depend_on_the_sampling_rate() =>
        Gen.Select(Histories.Readings, Gen.Int[2, 12]).Sample((readings, finer) =>
        {
            Trace coarse = Trace.FromReadings(readings, Histories.Bridge);
            Trace fine = Trace.Of(coarse.Pieces.SelectMany(piece => Enumerable.Range(0, finer).Select(i => piece.Within(
                piece.From + ((piece.Until - piece.From) * i / finer), piece.From + ((piece.Until - piece.From) * (i + 1) / finer))!.Value)));
            Exposure one = Exposure.Of(coarse, Band), many = Exposure.Of(fine, Band);
            Assert.Equal(one.DegreeHoursAbove, many.DegreeHoursAbove, 1e-6);
            Assert.Equal(one.DegreeHoursBelow, many.DegreeHoursBelow, 1e-6);
            Assert.Equal(one.HoursAbove, many.HoursAbove, 1e-6);
            Assert.Equal(Excursions.Find(coarse, Band).Count, Excursions.Find(fine, Band).Count);
        });

    [Fact]
    public void Exposure_inside_the_band_is_zero_limits_included() =>
        Gen.Double[30, 33].Array[2, 30].Sample(values =>
        {
            values[0] = 33;
            values[^1] = 30;
            Trace trace = Histories.Line([.. values.Select((value, hour) => ((double)hour, value))]);
            Exposure exposure = Exposure.Of(trace, Band);
            Assert.Equal((0, 0, 0, 0), (exposure.HoursAbove, exposure.DegreeHoursAbove, exposure.HoursBelow, exposure.DegreeHoursBelow));
            Assert.Empty(Excursions.Find(trace, Band));
        });

    [Fact]
    public void Find_under_a_band_that_changed_judges_each_time_by_its_own()
    {
        BandSpan[] bands = [new(Histories.Hour(0), Histories.Hour(2), 30, 33), new(Histories.Hour(2), Histories.Hour(9), 30, 35)];
        Excursion found = Assert.Single(Excursions.Find(Histories.Line((0, 34), (4, 34)), bands));

        Assert.Equal((Histories.Hour(0), Histories.Hour(2), 2.0), (found.From, found.Until, found.DegreeHours));
    }

    [Fact]
    public void Review_says_stage_probes_and_gaps_and_never_a_cause()
    {
        Trace clutch = Trace.FromReadings(
            [new(Histories.Hour(0), 32), new(Histories.Hour(1), 36), new(Histories.Hour(2), 32), new(Histories.Hour(9), 32), new(Histories.Hour(10), 32)],
            Histories.Bridge);
        var stage = new StageCurve(Trace.Constant(Histories.Hour(0), Histories.Hour(2400), 32), new LinearRate(17, 900));
        ClutchReview review = ClutchReview.Of(new(
            clutch,
            [new("p1", "air", clutch), new("p2", "shelf", Trace.Constant(Histories.Hour(0), Histories.Hour(10), 32)), new("p3", "out", Trace.Empty)],
            Band, Histories.Hour(0), Histories.Hour(10), stage, new EggCounts(10, 0, 0, 0, 1, 6, 3), Duration.Zero));
        ClutchReview good = ClutchReview.Of(new(
            Trace.Constant(Histories.Hour(0), Histories.Hour(10), 31.5), [], Band, Histories.Hour(0), Histories.Hour(10), null,
            new EggCounts(10, 0, 0, 0, 0, 0, 10), Duration.Zero));

        ReviewedStretch stretch = Assert.Single(review.Stretches);
        Assert.Equal([ProbeVerdict.SaysSo, ProbeVerdict.SaysNot, ProbeVerdict.Silent], stretch.Probes.Select(probe => probe.Verdict));
        Assert.InRange(stretch.StageFrom!.Value, 0, 0.01);
        Assert.Equal(7, review.GapHours, 1e-9);
        string all = string.Join(' ',
        [
            ReviewWords.Sentence(review, TemperatureScale.Celsius), ReviewWords.Sentence(good, TemperatureScale.Fahrenheit), ReviewWords.Caveat,
            .. ReviewWords.Compare(review, good).Select(line => line.What + line.Words),
        ]);
        Assert.Contains("consistent with", all, StringComparison.Ordinal);
        Assert.Contains("7 hours are without readings", all, StringComparison.Ordinal);
        Assert.Contains("6 dead, 1 slug.", all, StringComparison.Ordinal);
        Assert.Contains("0 dead, 0 slugs.", all, StringComparison.Ordinal);
        Assert.DoesNotContain("caused", all, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("because", all, StringComparison.OrdinalIgnoreCase);
        Assert.Equal("fewer", ReviewWords.Compare(review, good)[^1].Words);
    }
}
