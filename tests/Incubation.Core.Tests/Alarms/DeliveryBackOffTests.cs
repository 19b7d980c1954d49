using CsCheck;
using Incubation.Core.Alarms;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Alarms;

public sealed class DeliveryBackOffTests
{
    [Fact]
    public void After_starts_at_two_seconds_never_shrinks_and_ends_at_five_minutes()
    {
        Assert.Equal(Duration.FromSeconds(2), DeliveryBackOff.After(1));
        Gen.Int[1, int.MaxValue - 1].Sample(attempts =>
        {
            Duration pause = DeliveryBackOff.After(attempts);
            return pause >= Duration.FromSeconds(2) && pause <= Duration.FromMinutes(5) && DeliveryBackOff.After(attempts + 1) >= pause;
        });
        Assert.Equal(Duration.FromMinutes(5), DeliveryBackOff.After(7));
        Assert.Equal(Duration.FromMinutes(5), DeliveryBackOff.After(int.MaxValue));
    }

    [Fact]
    public void After_tries_five_times_within_the_first_two_minutes_of_a_call()
        => Assert.True(Enumerable.Range(1, 5).Sum(a => DeliveryBackOff.After(a).TotalSeconds) <= 120);

    /// <summary>Pure and without chance: the steps are few and the receivers are a keeper's own, so that there is no herd to scatter.</summary>
    [Fact]
    public void After_is_the_same_for_the_same_attempt()
        => Gen.Int[1, 1000].Sample(attempts => DeliveryBackOff.After(attempts) == DeliveryBackOff.After(attempts));

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    public void After_no_attempt_is_refused(int attempts)
        => Assert.Throws<ArgumentOutOfRangeException>(() => DeliveryBackOff.After(attempts));
}
