using Incubation.Core.Clutches;
using Incubation.Service.Clutches;
using NodaTime;
using Xunit;

namespace Incubation.Service.Tests.Clutches;

public sealed class ProbeWhereTests
{
    private static readonly (string Key, string Name)[] Two = [("t1", "Tub 1"), ("t12", "Tub 12")];

    [Theory]
    [InlineData("tub 1, between eggs", "t1")]
    [InlineData("Tub 12 under the lid", "t12")]
    [InlineData("between the eggs of tub 12", "t12")]
    [InlineData("tub 2, between eggs", null)]
    [InlineData("air, upper shelf", null)]
    [InlineData("between eggs", null)]
    [InlineData("", null)]
    public void Tub_of_two_is_the_one_that_is_named(string where, string? key) => Assert.Equal(key, ProbeWhere.Tub(where, Two));

    [Theory]
    [InlineData("between eggs", "t1")]
    [InlineData("in the tub", "t1")]
    [InlineData("in the substrate, 3 cm", null)]
    [InlineData("tub 2, between eggs", null)]
    [InlineData("air, middle", null)]
    public void Tub_of_one_may_go_without_its_name(string where, string? key) => Assert.Equal(key, ProbeWhere.Tub(where, [("t1", "Tub 1")]));

    [Fact]
    public void A_probe_between_eggs_lies_in_the_only_tub_for_as_long_as_it_is_the_only_one()
    {
        Instant At(int day) => Instant.FromUtc(2026, 3, day, 0, 0);
        IncubatorStay[] tubs = [new("t1", "hazel", "", At(2), null), new("t2", "hazel", "", At(5), At(7)), new("t3", "rowan", "", At(1), null)];
        ProbeStay stay = new("p", "hazel", null, "between eggs", At(1), At(9));

        ProbeStay[] cut = [.. ProbeWhere.InTubs(stay, tubs, new Dictionary<string, string>())];

        Assert.Equal(
            [(null, At(1), At(2)), ("t1", At(2), At(5)), (null, At(5), At(7)), ("t1", At(7), At(9))],
            cut.Select(part => (part.Tub, part.From, part.Until!.Value)));
    }

    [Fact]
    public void The_tub_on_record_holds_whatever_the_words_say_and_whichever_tubs_come_and_go()
    {
        Instant At(int day) => Instant.FromUtc(2026, 3, day, 0, 0);
        IncubatorStay[] tubs = [new("t1", "hazel", "", At(2), null), new("t2", "hazel", "", At(5), At(7))];
        ProbeStay stay = new("p", "hazel", "t2", "Tub 1, between eggs", At(1), At(9));

        Assert.Equal([stay], ProbeWhere.InTubs(stay, tubs, new Dictionary<string, string> { ["t1"] = "Tub 1", ["t2"] = "Tub 2" }));
    }
}
