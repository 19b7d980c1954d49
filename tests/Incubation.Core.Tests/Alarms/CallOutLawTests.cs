using CsCheck;
using Incubation.Core.Alarms;
using NodaTime;
using Xunit;

namespace Incubation.Core.Tests.Alarms;

/// <summary>Laws of the call-out order, over whole nights that are played second by second of the next due time.</summary>
public sealed class CallOutLawTests
{
    private static readonly Instant Raised = Instant.FromUtc(2026, 11, 25, 3, 0);

    private static readonly Gen<CallStep[]> Orders = Gen.Select(Gen.Int[0, 3600], Gen.OneOf(Gen.Const(0), Gen.Int[30, 3600]))
        .Select((after, repeat) => (after, repeat)).Array[1, 8]
        .Select(steps => steps.Select((s, i) => new CallStep(
            new Guid(i + 1, 0, 0, new byte[8]), $"person {i}", Duration.FromSeconds(s.after), Duration.FromSeconds(s.repeat))).ToArray());

    [Fact]
    public void Nobody_is_called_twice_in_one_round_and_rounds_count_up()
        => Orders.Sample(order =>
        {
            foreach (IGrouping<Guid, PlannedCall> step in Night(order, Duration.FromHours(6)).GroupBy(c => c.Step.Id))
            {
                Assert.Equal(Enumerable.Range(0, step.Count()), step.Select(c => c.Round));
            }
        });

    [Fact]
    public void Everyone_is_called_first_at_their_own_time_and_so_in_the_order_of_the_seconds()
        => Orders.Sample(order =>
        {
            List<PlannedCall> first = [.. Night(order, Duration.FromHours(6)).Where(c => c.Round == 0)];
            Assert.Equal(order.Length, first.Count);
            Assert.All(first, c => Assert.Equal(Raised + c.Step.After, c.At));
            Assert.Equal(first.Select(c => c.Step.After).Order(), first.Select(c => c.Step.After));
        });

    [Fact]
    public void While_unanswered_it_is_never_silent_for_longer_than_the_shortest_repeat_once_that_step_was_called()
        => Orders.Where(o => o.Any(s => s.Repeat > Duration.Zero)).Sample(order =>
        {
            CallStep keeper = order.Where(s => s.Repeat > Duration.Zero).MinBy(s => s.Repeat)!;
            List<PlannedCall> calls = Night(order, Duration.FromHours(6));
            Instant since = Raised + keeper.After;
            foreach (PlannedCall call in calls.Where(c => c.At >= since))
            {
                Assert.True(call.At - since <= keeper.Repeat);
                since = call.At;
            }

            Assert.True(Raised + Duration.FromHours(6) - since <= keeper.Repeat);
        });

    [Fact]
    public void While_unanswered_a_step_that_repeats_always_has_a_next_call()
        => Gen.Select(Orders, Gen.Int[0, 1000], Gen.Int[0, 100_000]).Sample((order, calls, seconds) =>
        {
            foreach (CallStep step in order)
            {
                var made = new CallsMade(calls, Raised + Duration.FromSeconds(seconds), ToldBack: false);
                PlannedCall? next = CallOut.Next(step, AlarmState.Unacknowledged, Raised, null, made);
                Assert.Equal(step.Repeat > Duration.Zero || calls == 0, next is not null);
            }
        });

    [Fact]
    public void Answered_or_normal_nobody_is_called_and_back_inside_is_told_once()
        => Gen.Select(Orders, Gen.Int[0, 5], Gen.Bool).Sample((order, calls, told) =>
        {
            foreach (CallStep step in order)
            {
                var made = new CallsMade(calls, Raised, told);
                Assert.Null(CallOut.Next(step, AlarmState.Acknowledged, Raised, null, made));
                Assert.Null(CallOut.Next(step, AlarmState.Normal, Raised, null, made));
                PlannedCall? back = CallOut.Next(step, AlarmState.ReturnedUnacknowledged, Raised, Raised, made);
                Assert.Equal(calls > 0 && !told, back is not null);
                Assert.True(back is null || back.Value.Back);
            }
        });

    [Fact]
    public void A_machine_that_was_off_makes_up_for_what_it_missed_with_one_call_for_each_step()
        => Gen.Select(Orders, Gen.Int[1, 48]).Sample((order, hours) =>
        {
            Instant woken = Raised + Duration.FromHours(hours);
            foreach (CallStep step in order)
            {
                PlannedCall? missed = CallOut.Next(step, AlarmState.Unacknowledged, Raised, null, default);
                Assert.True(missed is { } m && m.At <= woken);
                PlannedCall? next = CallOut.Next(step, AlarmState.Unacknowledged, Raised, null, new CallsMade(1, woken, false));
                Assert.True(next is null || next.Value.At > woken);
            }
        });

    // Plays the order as the desk does: the soonest call of all is made at its time, and the next is asked for.
    private static List<PlannedCall> Night(CallStep[] order, Duration length)
    {
        Dictionary<Guid, CallsMade> made = [];
        List<PlannedCall> calls = [];
        while (true)
        {
            PlannedCall? soonest = order
                .Select(s => CallOut.Next(s, AlarmState.Unacknowledged, Raised, null, made.GetValueOrDefault(s.Id)))
                .OfType<PlannedCall>().OrderBy(c => c.At).Cast<PlannedCall?>().FirstOrDefault();
            if (soonest is not { } call || call.At > Raised + length)
            {
                return calls;
            }

            calls.Add(call);
            CallsMade before = made.GetValueOrDefault(call.Step.Id);
            made[call.Step.Id] = new CallsMade(before.Calls + 1, call.At, false);
        }
    }
}
