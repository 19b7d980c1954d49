using CsCheck;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Readings;

public sealed class TroubleTrackTests
{
    private static readonly SeriesKey Series = new("p", Quantity.Temperature);
    private static readonly Instant Start = Instant.FromUtc(2026, 4, 1, 0, 0);

    [Fact]
    public void Add_allocates_nothing()
    {
        var track = new TroubleTrack(Series);
        Feed(track, 0, 2_000);
        long before = GC.GetAllocatedBytesForCurrentThread();

        Feed(track, 2_000, 60_000);

        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
    }

    [Fact]
    public void Add_of_faulty_retained_late_and_repeated_readings_changes_nothing()
    {
        var track = new TroubleTrack(Series);
        track.Add(At(10, 31.5));
        track.Add(At(20, -127) with { Marks = ReadingMarks.Faulty });
        track.Add(At(30, 25) with { Marks = ReadingMarks.Retained });
        track.Add(At(5, 40));
        track.Add(At(10, 40));

        Assert.Equal(31.5, track.Value);
        Assert.Equal(1, track.Stillness.Count);
        Assert.Equal(new TroubleSum(31.5, 31.5, 31.5), track.Hour(Start));
    }

    [Fact]
    public void Cells_and_hours_hold_mean_least_and_most_of_their_readings()
        => Gen.Int[-2_000, 4_000].Array[1, 400].Sample(hundredths =>
        {
            var track = new TroubleTrack(Series);
            for (int i = 0; i < hundredths.Length; i++)
            {
                track.Add(At(i * 10, hundredths[i] / 100.0));
            }

            double[] first = [.. hundredths.Take(60).Select(v => v / 100.0)];
            TroubleSum cell = track.Cell(Start)!.Value;
            Assert.Equal(first.Average(), cell.Mean, 1e-9);
            Assert.Equal(first.Min(), cell.Least, 1e-4);
            Assert.Equal(first.Max(), cell.Most, 1e-4);
            Assert.Equal(hundredths.Length > 360 ? hundredths.Skip(360).Average() / 100 : double.NaN, track.Hour(Start + Duration.FromHours(1))?.Mean ?? double.NaN, 1e-9);
        }, iter: 60);

    [Fact]
    public void A_ring_forgets_what_is_older_than_its_length()
    {
        var track = new TroubleTrack(Series);
        track.Add(At(0, 31));
        track.Add(At(TroubleTrack.Hours * 3_600, 32));

        Assert.Null(track.Hour(Start));
        Assert.Null(track.Cell(Start));
        Assert.Equal(32, track.Hour(Start + Duration.FromHours(TroubleTrack.Hours))!.Value.Mean);
    }

    [Fact]
    public void Jumps_are_those_that_come_straight_back_and_no_step_that_stays()
    {
        var jumps = new TroubleTrack(Series);
        foreach ((int second, double value) in new[] { (0, 31.5), (10, 40.0), (20, 31.5), (30, 22.0), (40, 22.1), (50, 22.0), (60, 23.0), (70, 31.4) })
        {
            jumps.Add(At(second, value));
        }

        (TroublePoint jump, double from) = Assert.Single(jumps.Jumps.Since(Start));
        Assert.Equal((40.0, 31.5), (jump.Value, from));
    }

    [Fact]
    public void A_coarse_probe_in_a_steady_incubator_is_never_called_stuck()
    {
        var track = new TroubleTrack(Series);
        Instant now = Start;
        // Warmed up, then the same tenth for ten days.
        for (int i = 0; i < 24 * 10 * 60; i++)
        {
            now = Start + Duration.FromMinutes(i);
            track.Add(new Reading(Series, i < 300 ? 22 + Math.Round(i * 0.0317, 1) : 31.5, now, now, ReadingMarks.None));
            if (i % 60 == 0)
            {
                Assert.Empty(TroubleJudge.Judge([new TroubleProbe("p", "p", null, track)], [], (_, _) => null, now));
            }
        }
    }

    [Fact]
    public void Pair_past_is_unmoved_by_one_wild_hour_in_twenty()
        => Gen.Double[-1, 1].Sample(difference =>
        {
            double[] hours = [.. Enumerable.Range(0, 48).Select(i => i % 20 == 7 ? 15 : difference)];
            Assert.Equal(difference, PairPast.Of(hours)!.Value.Difference, 1e-12);
            Assert.Null(PairPast.Of(hours.Take(PairPast.FewestHours - 1)));
        }, iter: 20);

    private static void Feed(TroubleTrack track, int from, int to)
    {
        for (int i = from; i < to; i++)
        {
            track.Add(At(i * 10, 31.5 + (0.0625 * (i * 7919 % 3))));
        }
    }

    private static Reading At(int second, double value)
    {
        Instant at = Start + Duration.FromSeconds(second);
        return new Reading(Series, value, at, at, ReadingMarks.None);
    }
}
