using CsCheck;
using Incubation.Core.Readings;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Readings;

public sealed class ClockSkewTests
{
    private static readonly Instant Start = Heard.Arrived;

    [Fact]
    public void Median_is_nothing_before_the_first_time() => Assert.Null(new ClockSkew().Median);

    [Fact]
    public void Median_of_a_clock_that_is_off_is_by_how_much_whatever_the_network_does() =>
        Gen.Select(Gen.Int[-200_000, 200_000], Gen.Int[0, 400].Array[60]).Sample((off, delays) =>
        {
            ClockSkew skew = new();
            for (int i = 0; i < delays.Length; i++)
            {
                Instant measured = Start + Duration.FromSeconds(i * 10);
                skew.Note(measured + Duration.FromMilliseconds(off), measured + Duration.FromMilliseconds(delays[i]));
            }

            Assert.InRange(skew.Median!.Value.TotalMilliseconds, off - 400, off);
        });

    [Fact]
    public void Median_is_not_moved_by_what_was_buffered_through_a_network_cut()
    {
        ClockSkew skew = new();
        Live(skew, 0, 30, Duration.FromSeconds(2));
        Instant back = Start + Duration.FromHours(6);
        for (int i = 0; i < 2160; i++)
        {
            skew.Note(back - Duration.FromHours(6) + Duration.FromSeconds(10 * i + 2), back + Duration.FromMilliseconds(i * 10));
        }

        Assert.Equal(2, skew.Median!.Value.TotalSeconds);
    }

    [Fact]
    public void Median_of_a_clock_that_was_set_at_last_is_right_at_once()
    {
        ClockSkew skew = new();
        for (int i = 0; i < 100; i++)
        {
            skew.Note(Instant.FromUnixTimeSeconds(i * 10), Start + Duration.FromSeconds(i * 10));
        }

        Assert.True(skew.Median!.Value < Duration.FromDays(-365));
        skew.Note(Start + Duration.FromSeconds(995), Start + Duration.FromSeconds(995));
        Assert.Equal(Duration.Zero, skew.Median);
        Live(skew, 100, 3, Duration.Zero);
        Assert.Equal(Duration.Zero, skew.Median);
    }

    [Fact]
    public void Median_of_a_clock_that_was_set_back_follows_within_the_spans_that_are_kept()
    {
        ClockSkew skew = new();
        Live(skew, 0, 40, Duration.FromHours(1));
        Live(skew, 40, 16, Duration.Zero);

        Assert.Equal(Duration.Zero, skew.Median);
    }

    private static void Live(ClockSkew skew, int from, int count, Duration off)
    {
        for (int i = from; i < from + count; i++)
        {
            Instant now = Start + Duration.FromSeconds(i * 10);
            skew.Note(now + off, now);
        }
    }
}
