using CsCheck;
using Incubation.Core.Clutches;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Clutches;

public sealed class PlacementChainTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 5, 1, 0, 0);

    private static Instant Day(double day) => Start + Duration.FromDays(day);

    private static Gen<T> OneOf<T>(params T[] values) => Gen.Int[0, values.Length - 1].Select(i => values[i]);

    [Fact]
    public void Resolve_follows_the_clutch_through_tubs_and_incubators()
    {
        IReadOnlyList<Whereabouts> where = PlacementChain.Resolve(
            [new("a", Day(1), null), new("b", Day(5), null)],
            [new("a", "north", "top", Day(0), null), new("b", "south", "", Day(3), null), new("a", "south", "low", Day(2), null)],
            [new("p1", "north", null, "air", Day(0), null), new("p2", "south", "b", "between eggs", Day(4), null),
                new("p3", "south", null, "air", Day(0), null)],
            Day(0), Day(7));

        Assert.Equal(
            [
                (0, null, null, "", ProbeNearness.None), (1, "a", "north", "p1", ProbeNearness.Incubator),
                (2, "a", "south", "p3", ProbeNearness.Incubator), (5, "b", "south", "p2", ProbeNearness.Tub),
            ],
            where.Select(w => ((int)(w.From - Start).TotalDays, w.Tub, w.Incubator, string.Join(',', w.Probes), w.Nearness)));
        Assert.Equal(Day(7), where[^1].Until);
    }

    [Fact]
    public void Resolve_with_no_probe_anywhere_says_that_none_speaks() =>
        Assert.Equal(ProbeNearness.None, PlacementChain.At([new("a", Day(0), null)], [new("a", "north", "", Day(0), null)], [], Day(1)).Nearness);

    [Fact]
    public void At_of_two_stays_that_begin_together_holds_the_one_entered_last() =>
        Assert.Equal("b", PlacementChain.At([new("a", Day(0), null), new("b", Day(0), null)], [], [], Day(1)).Tub);

    [Fact]
    public void At_after_a_later_move_ignores_the_end_the_earlier_stay_was_given() =>
        Assert.Equal("b", PlacementChain.At([new("a", Day(0), Day(9)), new("b", Day(2), null)], [], [], Day(3)).Tub);

    [Fact]
    public void Resolve_of_any_records_covers_the_time_without_holes_and_agrees_with_At()
    {
        Gen<Instant> when = Gen.Int[0, 20].Select(day => Day(day));
        Gen<TubStay> inTub = Gen.Select(OneOf("a", "b"), when, (tub, from) => new TubStay(tub, from, null));
        Gen<IncubatorStay> placed = Gen.Select(OneOf("a", "b"), OneOf("n", "s"), when,
            (tub, incubator, from) => new IncubatorStay(tub, incubator, "", from, null));
        Gen<ProbeStay> probe = Gen.Select(OneOf("p", "q"), OneOf("n", "s"), OneOf<string?>("a", null), when,
            (name, incubator, tub, from) => new ProbeStay(name, incubator, tub, "", from, null));
        Gen.Select(inTub.Array[0, 4], placed.Array[0, 4], probe.Array[0, 5]).Sample((tubs, incubators, probes) =>
        {
            IReadOnlyList<Whereabouts> where = PlacementChain.Resolve(tubs, incubators, probes, Day(2), Day(18));
            Assert.Equal(Day(2), where[0].From);
            Assert.Equal(Day(18), where[^1].Until);
            for (int i = 0; i < where.Count; i++)
            {
                Assert.True(i == 0 || where[i].From == where[i - 1].Until);
                Instant middle = where[i].From + ((where[i].Until - where[i].From) / 2);
                Whereabouts at = PlacementChain.At(tubs, incubators, probes, middle);
                Assert.Equal((at.Tub, at.Incubator, at.Nearness), (where[i].Tub, where[i].Incubator, where[i].Nearness));
                Assert.Equal(at.Probes, where[i].Probes);
            }
        });
    }
}
