using Incubation.Core.Alarms;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Alarms;

public sealed class CallOutTests
{
    private static readonly Instant Raised = Instant.FromUtc(2026, 1, 1, 3, 0);
    private static readonly CallStep Second = new(Guid.NewGuid(), "Bo", Duration.FromSeconds(120), Duration.FromSeconds(300));

    [Fact]
    public void A_step_is_called_first_its_time_after_the_alarm_and_then_at_its_repeats()
    {
        PlannedCall first = Next(AlarmState.Unacknowledged, default)!.Value;
        Assert.Equal((Raised + Duration.FromSeconds(120), 0), (first.At, first.Round));
        PlannedCall again = Next(AlarmState.Unacknowledged, new CallsMade(1, first.At, false))!.Value;
        Assert.Equal((Raised + Duration.FromSeconds(420), 1), (again.At, again.Round));
    }

    [Fact]
    public void A_step_without_repeats_is_called_once()
        => Assert.Null(CallOut.Next(Second with { Repeat = Duration.Zero }, AlarmState.Unacknowledged, Raised, null, new CallsMade(1, Raised, false)));

    [Theory]
    [InlineData(AlarmState.Acknowledged)]
    [InlineData(AlarmState.Normal)]
    public void Nobody_is_called_once_somebody_has_answered_or_it_is_over(AlarmState state)
        => Assert.Null(Next(state, new CallsMade(1, Raised, false)));

    [Fact]
    public void Whoever_was_called_is_told_once_that_it_is_back_and_nobody_answered()
    {
        PlannedCall back = Next(AlarmState.ReturnedUnacknowledged, new CallsMade(2, Raised, false))!.Value;
        Assert.True(back.Back);
        Assert.Null(Next(AlarmState.ReturnedUnacknowledged, new CallsMade(2, Raised, ToldBack: true)));
        Assert.Null(Next(AlarmState.ReturnedUnacknowledged, default));
    }

    [Fact]
    public void An_alarm_that_comes_again_starts_the_order_afresh_with_the_next_round()
    {
        PlannedCall again = CallOut.Next(
            Second, AlarmState.Unacknowledged, Raised + Duration.FromHours(1), null, new CallsMade(3, Raised + Duration.FromMinutes(12), true))!.Value;
        Assert.Equal((Raised + Duration.FromSeconds(3720), 3), (again.At, again.Round));
    }

    private static PlannedCall? Next(AlarmState state, CallsMade made) => CallOut.Next(Second, state, Raised, null, made);
}
