using Incubation.Core.Care;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Care;

public sealed class CareLogTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 7, 1, 2, 0);
    private static readonly CareEntry Lid = new(Guid.NewGuid(), CareTarget.Tub, "t1", CareKind.Lid, null, "", "Mara", Now);

    [Fact]
    public void Check_of_two_taps_has_nothing_to_say() => Assert.Empty(CareLog.Check(Lid, Now));

    [Fact]
    public void Kind_of_every_word_comes_back() =>
        Assert.All(CareLog.Kinds, kind => Assert.Equal(kind, CareLog.Kind(CareLog.Word(kind))));

    [Fact]
    public void Kind_of_an_unknown_word_is_null() => Assert.Null(CareLog.Kind("sing"));

    [Fact]
    public void Check_of_other_without_a_note_asks_for_one() =>
        Assert.Contains(CareLog.Check(Lid with { Kind = CareKind.Other }, Now), remark => remark.Refuses && remark.Field == "note");

    [Fact]
    public void Check_of_a_time_to_come_is_refused() =>
        Assert.Contains(CareLog.Check(Lid with { At = Now + Duration.FromHours(1) }, Now), remark => remark.Refuses && remark.Field == "at");

    [Fact]
    public void Check_of_a_note_with_tags_and_emoji_keeps_it() =>
        Assert.Empty(CareLog.Check(Lid with { Note = "<b>lid</b> 🐍" }, Now));

    [Theory]
    [InlineData(0)]
    [InlineData(-5)]
    [InlineData(double.NaN)]
    [InlineData(60_000)]
    public void Check_of_water_that_cannot_be_is_refused(double grams) =>
        Assert.Contains(CareLog.Check(Lid with { Kind = CareKind.Water, WaterGrams = grams }, Now), remark => remark.Refuses);

    [Fact]
    public void Check_of_a_turn_says_what_is_known_and_takes_it() =>
        Assert.All(CareLog.Check(Lid with { Kind = CareKind.Turn }, Now), remark => Assert.False(remark.Refuses));
}
