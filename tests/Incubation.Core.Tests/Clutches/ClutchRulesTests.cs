using Incubation.Core.Clutches;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Clutches;

public sealed class ClutchRulesTests
{
    private static readonly LocalDate Today = new(2026, 7, 1);

    private static Clutch Some(LocalDate? laid = null, int eggs = 8) => new(
        "c1", "C-01", "python-regius", "Ida", "Otto", new LayDate(laid ?? Today, 0), eggs, null, null, null, null,
        Instant.FromUtc(2026, 7, 1, 12, 0));

    [Fact]
    public void Check_of_a_clutch_laid_today_has_nothing_to_say() => Assert.Empty(ClutchRules.Check(Some(), Today));

    [Fact]
    public void Check_of_a_lay_date_to_come_is_refused_with_both_dates()
    {
        Remark remark = Assert.Single(ClutchRules.Check(Some(new LocalDate(2026, 7, 2)), Today));

        Assert.True(remark.Refuses);
        Assert.Contains("2026-07-02", remark.Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(120, false)]
    [InlineData(121, true)]
    public void Check_of_an_old_lay_date_is_refused_after_120_days(int daysAgo, bool refused) =>
        Assert.Equal(refused, ClutchRules.Check(Some(Today.PlusDays(-daysAgo)), Today).Any(remark => remark.Refuses));

    [Fact]
    public void Check_of_an_old_lay_date_is_taken_when_the_clutch_is_already_finished() =>
        Assert.Empty(ClutchRules.Check(Some(Today.PlusDays(-300)), Today, alreadyFinished: true));

    [Fact]
    public void Check_of_a_clutch_entered_on_day_30_says_that_its_past_is_assumed()
    {
        Remark remark = Assert.Single(ClutchRules.Check(Some(Today.PlusDays(-30)), Today));

        Assert.False(remark.Refuses);
        Assert.Contains("day 30", remark.Words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-3)]
    [InlineData(500)]
    public void Check_of_an_empty_clutch_or_500_eggs_is_refused(int eggs) =>
        Assert.Contains(ClutchRules.Check(Some(eggs: eggs), Today), remark => remark.Refuses && remark.Field == "eggCount");

    [Fact]
    public void Check_of_a_name_with_tags_and_emoji_keeps_it() => Assert.Empty(ClutchRules.Check(Some() with { Dam = "<b>Ida</b> 🐍" }, Today));

    [Fact]
    public void Check_of_temperatures_that_cannot_be_names_the_field() =>
        Assert.Equal(["femaleCelsius", "assumedCelsius"],
            ClutchRules.Check(Some() with { FemaleCelsius = double.NaN, AssumedCelsius = 88 }, Today).Select(remark => remark.Field));

    [Fact]
    public void CheckNumber_of_a_number_twice_names_the_next_free_one() =>
        Assert.Contains("next free number is 3", Assert.Single(ClutchRules.CheckNumber(2, [1, 2, 4])).Words, StringComparison.Ordinal);

    [Fact]
    public void CheckPlace_of_two_clutches_in_one_tub_is_said_and_taken() =>
        Assert.False(Assert.Single(ClutchRules.CheckPlace(["C-02"], "tub 4")).Refuses);

    [Fact]
    public void CheckMove_before_laying_or_ahead_is_refused()
    {
        Instant laid = Instant.FromUtc(2026, 6, 1, 0, 0);
        Instant now = Instant.FromUtc(2026, 7, 1, 0, 0);

        Assert.True(Assert.Single(ClutchRules.CheckMove(laid - Duration.FromDays(1), laid, now)).Refuses);
        Assert.True(Assert.Single(ClutchRules.CheckMove(now + Duration.FromHours(1), laid, now)).Refuses);
        Assert.Empty(ClutchRules.CheckMove(laid + Duration.FromDays(1), laid, now));
    }

    [Fact]
    public void PullingEggs_of_a_large_constrictor_needs_a_second_person_who_is_someone_else()
    {
        Species large = SpeciesCatalogue.Find("python-bivittatus")!;

        Assert.True(Assert.Single(PullingEggs.Check(large, " ", "Mara")).Refuses);
        Assert.True(Assert.Single(PullingEggs.Check(large, "mara ", "Mara")).Refuses);
        Assert.Empty(PullingEggs.Check(large, "Jonas", "Mara"));
        Assert.Empty(PullingEggs.Check(SpeciesCatalogue.Find("python-regius")!, null, "Mara"));
        Assert.Contains("never alone", PullingEggs.Cautions(large)[0], StringComparison.Ordinal);
    }

    [Fact]
    public void Heap_lies_within_the_tub_numbered_and_apart()
    {
        for (int count = 1; count <= Limits.EggsPerClutch; count++)
        {
            IReadOnlyList<Egg> eggs = EggPlan.Heap(count);
            Assert.Empty(EggPlan.Check(eggs));
            Assert.Equal(Enumerable.Range(1, count), eggs.Select(egg => egg.Number));
        }

        IReadOnlyList<Egg> ten = EggPlan.Heap(10);
        Assert.All(ten, a => Assert.All(ten.Where(b => b != a), b => Assert.True(double.Hypot(a.X - b.X, a.Y - b.Y) > 0.05)));
    }

    [Fact]
    public void Check_of_a_plan_says_what_is_wrong_with_which_egg()
    {
        Remark[] remarks = [.. EggPlan.Check([new(1, 0.5, 0.5, 7), new(1, 0.2, 0.2, null), new(2, 1.4, 0, null), new(3, double.NaN, 0, null)])];

        Assert.Contains(remarks, remark => remark.Refuses && remark.Words.Contains("Number 1 is on 2 eggs", StringComparison.Ordinal));
        Assert.Contains(remarks, remark => remark.Refuses && remark.Words.Contains("Egg 2 lies outside", StringComparison.Ordinal));
        Assert.Contains(remarks, remark => remark.Refuses && remark.Words.Contains("Egg 3 lies outside", StringComparison.Ordinal));
        Assert.Contains(remarks, remark => !remark.Refuses && remark.Words.Contains("stuck", StringComparison.Ordinal));
    }

    [Fact]
    public void Every_species_has_a_profile_of_the_same_key() =>
        Assert.All(SpeciesCatalogue.All, species => Assert.NotNull(Core.Development.DevelopmentProfiles.Find(species.Key)));
}
