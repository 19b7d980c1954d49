using CsCheck;
using Incubation.Core.Development;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Development;

public sealed class TraceTests
{
    [Fact]
    public void FromReadings_in_any_order_gives_the_same_lines() =>
        Histories.Readings.SelectMany(readings => Gen.Shuffle(readings.ToArray()).Select(mixed => (readings, mixed))).Sample(pair =>
            Assert.Equal(
                Trace.FromReadings(pair.readings, Histories.Bridge).Pieces, Trace.FromReadings(pair.mixed, Histories.Bridge).Pieces));

    [Fact]
    public void FromReadings_leaves_a_gap_where_readings_are_too_far_apart()
    {
        Trace trace = Trace.FromReadings(
            [new(Histories.Hour(0), 30), new(Histories.Hour(1), 31), new(Histories.Hour(4), 31), new(Histories.Hour(5), 30)], Histories.Bridge);

        Assert.Equal([new Interval(Histories.Hour(1), Histories.Hour(4)), new Interval(Histories.Hour(5), Histories.Hour(6))],
            trace.Gaps(Histories.Hour(0), Histories.Hour(6)));
        Assert.Equal(2.0 / 24, trace.KnownDays, 1e-12);
    }

    [Fact]
    public void FromReadings_averages_the_same_instant_and_drops_what_is_no_number()
    {
        Trace trace = Trace.FromReadings(
            [new(Histories.Hour(0), 30), new(Histories.Hour(0), 32), new(Histories.Hour(0.5), double.NaN), new(Histories.Hour(1), 31)],
            Histories.Bridge);

        Assert.Equal(new Piece(Histories.Hour(0), 31, Histories.Hour(1), 31), Assert.Single(trace.Pieces));
    }

    [Fact]
    public void FromReadings_of_one_reading_knows_nothing() =>
        Assert.Empty(Trace.FromReadings([new(Histories.Hour(0), 30)], Histories.Bridge).Pieces);

    [Fact]
    public void Gaps_and_known_time_always_add_up_to_the_whole() =>
        Gen.Select(Histories.Readings, Gen.Double[-5, 60], Gen.Double[0.1, 60]).Sample((readings, start, length) =>
        {
            Trace trace = Trace.FromReadings(readings, Histories.Bridge);
            Instant from = Histories.Hour(start), until = Histories.Hour(start + length);
            double known = trace.Between(from, until).KnownDays;
            double gaps = trace.Gaps(from, until).Sum(gap => gap.Duration.TotalDays);
            Assert.Equal(length / 24, known + gaps, 1e-9);
        });

    [Fact]
    public void Or_fills_only_the_gaps()
    {
        Trace trace = Histories.Line((0, 30), (1, 30)).Or(Trace.Constant(Histories.Hour(-1), Histories.Hour(3), 20));

        Assert.Equal([20.0, 30, 20], trace.Pieces.Select(piece => piece.Mean));
        Assert.Empty(trace.Gaps(Histories.Hour(-1), Histories.Hour(3)));
    }

    [Fact]
    public void Mean_of_two_probes_is_that_of_both_and_goes_on_alone()
    {
        Trace mean = TraceMean.Of([Histories.Line((0, 30), (4, 30)), Histories.Line((2, 32), (3, 34), (6, 34))]);

        Assert.Equal([(30.0, 30.0), (31, 32), (32, 32), (34, 34)], mean.Pieces.Select(piece => (piece.FromValue, piece.UntilValue)));
    }

    [Fact]
    public void Mean_of_any_two_probes_has_their_area_where_both_speak() =>
        Gen.Select(Histories.Readings, Histories.Readings).Sample((one, two) =>
        {
            Trace a = Trace.FromReadings(one, Duration.FromDays(9));
            Trace b = Trace.FromReadings(two, Duration.FromDays(9));
            Instant from = Instant.Max(one[0].At, two[0].At), until = Instant.Min(one[^1].At, two[^1].At);
            if (until > from)
            {
                Assert.Equal((a.Mean(from, until)!.Value + b.Mean(from, until)!.Value) / 2,
                    TraceMean.Of([a, b]).Mean(from, until)!.Value, 1e-6);
            }
        });

    [Fact]
    public void Of_overlapping_lines_is_refused() => Assert.Throws<ArgumentException>(() => Trace.Of(
        [new(Histories.Hour(0), 1, Histories.Hour(2), 1), new(Histories.Hour(1), 1, Histories.Hour(3), 1)]));
}
