using CsCheck;
using Incubation.Core.Clutches;
using Incubation.Core.Genetics;
using Xunit;

namespace Incubation.Core.Tests.Genetics;

public sealed class CrossTests
{
    private static readonly Trait Lantern = new("lantern", "Lantern", Inheritance.IncompleteDominant);

    [Fact]
    public void Of_any_cross_adds_up_to_one_and_does_not_care_which_parent_is_which() =>
        Gen.Select(Gen.Int[0, 2], Gen.Int[0, 2], Gen.Enum<Inheritance>()).Sample((dam, sire, inheritance) =>
        {
            CrossShares shares = Cross.Of(inheritance, dam, sire);
            Assert.Equal(Fraction.One, shares.None + shares.One + shares.Two);
            Assert.Equal(shares, Cross.Of(inheritance, sire, dam));
            Assert.Equal(Fraction.One, shares.ByLook.Select(look => look.Share).Aggregate(Fraction.Add));
            // On average the young have half the copies of both parents together.
            Assert.Equal(new Fraction(dam + sire, 2), shares.One + (shares.Two * new Fraction(2, 1)));
        });

    [Theory]
    [InlineData(Inheritance.Recessive, 1, Look.NormalCarrier)]
    [InlineData(Inheritance.Dominant, 2, Look.Shows)]
    [InlineData(Inheritance.IncompleteDominant, 1, Look.Shows)]
    [InlineData(Inheritance.IncompleteDominant, 2, Look.SuperForm)]
    public void Of_copies_gives_the_look_of_its_inheritance(Inheritance inheritance, int copies, Look look) =>
        Assert.Equal(look, Looks.Of(inheritance, copies));

    [Fact]
    public void Expect_with_an_unknown_sire_gives_a_range_and_no_shares()
    {
        CrossExpectation expectation = Cross.Expect(new(Lantern, ParentCopies.Known(1), ParentCopies.Unknown));

        Assert.Null(expectation.Shares);
        Assert.Equal(new Fraction(1, 2), expectation.LeastCarriers);
        Assert.Equal(Fraction.One, expectation.MostCarriers);
        Assert.Contains("sire", expectation.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Expect_with_a_super_dam_and_an_unknown_sire_knows_that_every_young_carries()
    {
        CrossExpectation expectation = Cross.Expect(new(Lantern, ParentCopies.Known(2), ParentCopies.Unknown));

        Assert.Equal(Fraction.One, expectation.LeastCarriers);
        Assert.Contains("every young carries", expectation.Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0, "no young carries")]
    [InlineData(1, "no share can be expected")]
    [InlineData(2, "every young carries")]
    public void Expect_without_a_sire_says_only_what_the_dam_makes_certain(int damCopies, string words) =>
        Assert.Contains(words, Cross.Expect(new(Lantern, ParentCopies.Known(damCopies), ParentCopies.None)).Words, StringComparison.Ordinal);

    [Theory]
    [InlineData(Inheritance.Recessive, 1, 1, TraitSeen.None, null)]
    [InlineData(Inheritance.Recessive, 0, 0, TraitSeen.None, false)]
    [InlineData(Inheritance.Recessive, 2, 0, TraitSeen.None, true)]
    [InlineData(Inheritance.IncompleteDominant, 1, 1, TraitSeen.None, false)]
    [InlineData(Inheritance.Recessive, 1, 1, TraitSeen.TwoCopies, true)]
    [InlineData(Inheritance.Dominant, 1, 1, TraitSeen.Carries, true)]
    public void Carries_tells_no_more_than_the_look_can(Inheritance inheritance, int dam, int sire, TraitSeen seen, bool? carries) =>
        Assert.Equal(carries, Looks.Carries(inheritance, seen, Cross.Of(inheritance, dam, sire)));

    [Fact]
    public void Words_of_genetics_and_outcomes_come_back()
    {
        Assert.All(Enum.GetValues<Inheritance>(), value => Assert.Equal(value, GeneticsWords.InheritanceOf(GeneticsWords.Word(value))));
        Assert.All(Enum.GetValues<TraitSeen>(), value => Assert.Equal(value, GeneticsWords.SeenOf(GeneticsWords.Word(value))));
        Assert.All(Enum.GetValues<OutcomeKind>(), value => Assert.Equal(value, OutcomeWords.KindOf(OutcomeWords.Word(value))));
        Assert.Null(OutcomeWords.KindOf("lost"));
    }

    [Fact]
    public void Known_of_three_copies_is_refused() => Assert.Throws<ArgumentOutOfRangeException>(() => ParentCopies.Known(3));

    [Fact]
    public void Fraction_is_kept_in_lowest_terms_with_a_positive_denominator()
    {
        Assert.Equal("1/4", new Fraction(-2, -8).ToString());
        Assert.Equal("0", Fraction.Zero.ToString());
        Assert.Equal("1", (new Fraction(1, 3) + new Fraction(2, 3)).ToString());
        Assert.Throws<ArgumentOutOfRangeException>(() => new Fraction(1, 0));
    }
}
