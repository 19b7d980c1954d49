using CsCheck;
using Incubation.Service.Broker;
using Xunit;

namespace Incubation.Service.Tests.Broker;

public sealed class ReconnectPolicyTests
{
    private static readonly Gen<(LossKind, int, double)[]> Losses = Gen.Select(Gen.Enum<LossKind>(), Gen.Int[0, 2_000], Gen.Double[0, 1]).Array[1, 40];

    [Fact]
    public void After_losses_in_a_row_doubles_and_ends_at_the_longest()
    {
        ReconnectPolicy policy = new();
        double[] seconds = [.. Enumerable.Range(0, 8).Select(_ => policy.After(LossKind.Unreachable, TimeSpan.Zero, chance: 0).TotalSeconds)];
        Assert.Equal([1, 2, 4, 8, 16, 30, 30, 30], seconds);
    }

    [Fact]
    public void After_chance_takes_at_most_half_away()
        => Assert.Equal(TimeSpan.FromSeconds(0.5), new ReconnectPolicy().After(LossKind.Closed, TimeSpan.Zero, chance: 1));

    [Fact]
    public void After_a_stable_connection_begins_afresh()
    {
        ReconnectPolicy policy = new();
        for (int i = 0; i < 5; i++)
        {
            policy.After(LossKind.Closed, TimeSpan.Zero, 0);
        }

        Assert.Equal(ReconnectPolicy.First, policy.After(LossKind.Closed, ReconnectPolicy.StableAfter, 0));
    }

    [Fact]
    public void After_a_takeover_does_not_hurry_though_the_connection_was_stable_between()
    {
        ReconnectPolicy policy = new();
        double[] minutes = [.. Enumerable.Range(0, 6).Select(_ => policy.After(LossKind.TakenOver, TimeSpan.FromMinutes(2), 0).TotalMinutes)];
        Assert.Equal([1, 2, 4, 8, 10, 10], minutes);
    }

    [Fact]
    public void After_any_losses_a_pause_is_never_shorter_than_half_a_second_nor_longer_than_its_kind_allows()
        => Losses.Sample(losses =>
        {
            ReconnectPolicy policy = new();
            foreach ((LossKind kind, int heard, double chance) in losses)
            {
                TimeSpan pause = policy.After(kind, TimeSpan.FromSeconds(heard), chance);
                Assert.InRange(pause, TimeSpan.FromSeconds(0.5), kind == LossKind.TakenOver ? ReconnectPolicy.LongestWhenTakenOver : ReconnectPolicy.Longest);
                Assert.True(kind != LossKind.Refused || pause >= ReconnectPolicy.FirstWhenRefused / 2);
            }
        });

    [Fact]
    public void Ended_three_short_lives_in_a_row_look_like_a_rival()
    {
        ShortLives lives = new();
        bool[] suspected = [.. Enumerable.Range(0, 4).Select(_ => lives.Ended(LossKind.Closed, TimeSpan.FromSeconds(2)))];
        Assert.Equal([false, false, true, true], suspected);
    }

    [Theory]
    [InlineData(LossKind.Closed, 31)]
    [InlineData(LossKind.Closed, 0)]
    [InlineData(LossKind.Unreachable, 0)]
    [InlineData(LossKind.Silent, 5)]
    public void Ended_another_end_between_is_no_rival(object kind, int seconds)
    {
        ShortLives lives = new();
        lives.Ended(LossKind.Closed, TimeSpan.FromSeconds(2));
        lives.Ended(LossKind.Closed, TimeSpan.FromSeconds(2));
        Assert.False(lives.Ended((LossKind)kind, TimeSpan.FromSeconds(seconds)));
        Assert.False(lives.Ended(LossKind.Closed, TimeSpan.FromSeconds(2)));
    }
}
