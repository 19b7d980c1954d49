using CsCheck;
using Incubation.Core.Alarms;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Alarms;

public sealed class LimitWatchTests
{
    private static readonly Instant Start = Instant.FromUtc(2026, 1, 1, 0, 0);

    private static readonly Gen<(LimitRule Rule, (int Step, double Value)[] Samples)> Nights =
        from side in Gen.Bool.Select(high => high ? LimitSide.High : LimitSide.Low)
        from deadband in Gen.Double[0, 1]
        from onDelay in Gen.Int[0, 300]
        from off in Gen.Int[0, 300]
        from samples in Gen.Select(Gen.Int[1, 120], Gen.Double[31, 35]).Array[1, 60]
        select (new LimitRule(side, 33, deadband, Duration.FromSeconds(onDelay), Duration.FromSeconds(off)), samples);

    [Fact]
    public void Watch_never_raises_before_the_on_delay_has_passed_beyond_the_limit()
        => Nights.Sample(night => Run(night.Rule, night.Samples, (what, at, beyondSince, _) =>
            what != WatchEvent.Raise || (beyondSince is Instant since && at - since >= night.Rule.OnDelay)));

    [Fact]
    public void Watch_never_clears_before_the_off_delay_has_passed_beyond_the_deadband()
        => Nights.Sample(night => Run(night.Rule, night.Samples, (what, at, _, backSince) =>
            what != WatchEvent.Clear || (backSince is Instant since && at - since >= night.Rule.OffDelay)));

    [Fact]
    public void Watch_does_not_chatter_while_values_stay_inside_the_deadband()
        => Gen.Select(Gen.Double[0.1, 1], Gen.Double[0.001, 0.999].Array[1, 100]).Sample((deadband, shares) =>
        {
            var rule = new LimitRule(LimitSide.High, 33, deadband, Duration.Zero, Duration.Zero);
            LimitWatch watch = default;
            Assert.Equal(WatchEvent.Raise, watch.Observe(rule, 33.5, Start));
            Instant at = Start;
            foreach (double share in shares)
            {
                at += Duration.FromSeconds(1);
                Assert.Equal(WatchEvent.None, watch.Observe(rule, 33 - (share * deadband), at));
            }
        });

    [Fact]
    public void Watch_ignores_values_that_are_no_numbers()
    {
        var rule = new LimitRule(LimitSide.High, 33, 0.2, Duration.FromSeconds(60), Duration.Zero);
        LimitWatch watch = default;
        watch.Observe(rule, 34, Start);
        Instant due = watch.Due;
        Assert.Equal(WatchEvent.None, watch.Observe(rule, double.NaN, Start + Duration.FromSeconds(30)));
        Assert.Equal(due, watch.Due);
    }

    [Fact]
    public void Watch_at_exactly_the_limit_is_not_beyond_and_at_exactly_the_deadband_is_not_back()
    {
        var rule = new LimitRule(LimitSide.Low, 30, 0.5, Duration.Zero, Duration.Zero);
        LimitWatch watch = default;
        Assert.Equal(WatchEvent.None, watch.Observe(rule, 30, Start));
        Assert.Equal(WatchEvent.Raise, watch.Observe(rule, 29.9, Start));
        Assert.Equal(WatchEvent.None, watch.Observe(rule, 30.5, Start));
        Assert.Equal(WatchEvent.Clear, watch.Observe(rule, 30.6, Start));
    }

    // Drives a watch as the shell does: elapses what is due before each value. The oracle reckons since when the value held.
    private static bool Run(LimitRule rule, (int Step, double Value)[] samples, Func<WatchEvent, Instant, Instant?, Instant?, bool> holds)
    {
        LimitWatch watch = default;
        Instant at = Start;
        Instant? beyond = null;
        Instant? back = null;
        foreach ((int step, double value) in samples)
        {
            at += Duration.FromSeconds(step);
            Instant due = watch.Due;
            if (due <= at && !holds(watch.Elapse(due), due, beyond, back))
            {
                return false;
            }

            beyond = rule.IsBeyond(value) ? beyond ?? at : null;
            back = rule.IsBack(value) ? back ?? at : null;
            if (!holds(watch.Observe(rule, value, at), at, beyond, back))
            {
                return false;
            }
        }

        return true;
    }
}
