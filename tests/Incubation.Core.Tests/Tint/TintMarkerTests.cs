using Incubation.Core.Genetics;
using Incubation.Core.Tint;
using Xunit;

namespace Incubation.Core.Tests.Tint;

public sealed class TintMarkerTests
{
    private static readonly TintMarker Marker = new("lantern", ["greenish"], ["dark", "yellow"]);

    [Theory]
    [InlineData("greenish", MarkerCall.Carrier)]
    [InlineData("peach", MarkerCall.Other)]
    [InlineData("dark", MarkerCall.Unsure)]
    [InlineData(null, MarkerCall.Unsure)]
    public void Call_follows_the_keepers_lists(string? term, MarkerCall call) => Assert.Equal(call, Marker.Call(term));

    [Fact]
    public void Of_counts_each_egg_once() =>
        Assert.Equal(new GlowCount(2, 1, 2), GlowCount.Of(Marker, ["greenish", "peach", null, "greenish", "dark"]));

    [Fact]
    public void Words_before_the_first_hatch_say_that_nothing_is_confirmed()
    {
        MarkerRecord record = MarkerRecord.Count([new(MarkerCall.Carrier, null)]);

        Assert.Null(record.Sensitivity);
        Assert.Null(record.Right);
        Assert.Contains("No hatch has confirmed", record.Words(), StringComparison.Ordinal);
    }

    [Fact]
    public void Count_tells_hits_misses_and_both_rates_apart()
    {
        MarkerRecord record = MarkerRecord.Count(
        [
            .. Enumerable.Repeat(new ConfirmedEgg(MarkerCall.Carrier, true), 9), new(MarkerCall.Other, true),
            .. Enumerable.Repeat(new ConfirmedEgg(MarkerCall.Other, false), 10), new(MarkerCall.Unsure, true),
        ]);

        Assert.Equal((19, 1, 1), (record.Hits, record.Misses, record.NotTold));
        Assert.Equal(0.9, record.Sensitivity!.Value);
        Assert.Equal(1, record.Specificity!.Value);
        Assert.Equal(Proportion.Measure(19, 20), record.Right);
        Assert.Contains("19 of 20 hatched eggs", record.Words(), StringComparison.Ordinal);
    }

    [Fact]
    public void Defaults_have_keys_of_their_own_and_colours_that_can_be_drawn()
    {
        Assert.Equal(TintTerms.Defaults.Count, TintTerms.Defaults.Select(term => term.Key).Distinct().Count());
        Assert.All(TintTerms.Defaults, term => Assert.True(TintTerms.IsColour(term.Colour), term.Key));
    }

    [Theory]
    [InlineData("#12345")]
    [InlineData("red")]
    [InlineData("#12345g")]
    [InlineData("<b>#fff")]
    [InlineData(null)]
    public void IsColour_of_anything_else_is_false(string? colour) => Assert.False(TintTerms.IsColour(colour));
}
