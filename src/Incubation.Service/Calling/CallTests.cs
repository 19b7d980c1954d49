using Incubation.Service.Hosting;
using NodaTime;

namespace Incubation.Service.Calling;

/// <summary>A test of one step of the call-out order, as it stands.</summary>
/// <param name="Id">Names it; the answer link of its message leads to it.</param>
/// <param name="Step">The step that was called.</param>
/// <param name="Who">Whom.</param>
/// <param name="Channel">How.</param>
/// <param name="SentAt">When.</param>
/// <param name="Delivered">Whether the other side took the message.</param>
/// <param name="Answered">Whether the link in the message was used.</param>
/// <param name="AnsweredAt">When, or null.</param>
/// <param name="Words">The same in a sentence.</param>
internal sealed record CallTestView(
    Guid Id, Guid Step, string Who, string Channel, Instant SentAt, bool Delivered, bool Answered, Instant? AnsweredAt, string Words);

/// <summary>Tests that were sent lately. In memory only: a test is for the one who waits for it now.</summary>
internal sealed class CallTests(Outbox outbox, AnswerLinks links, CallRecords kept, ServiceClock clock)
{
    /// <summary>As many tests are remembered; the oldest is forgotten first.</summary>
    public const int Most = 100;

    private readonly Lock _gate = new();
    private readonly Dictionary<Guid, CallTestView> _tests = [];
    private readonly Queue<Guid> _order = new();

    /// <summary>Sends a test and says what came of it.</summary>
    public async Task<CallTestView> SendAsync(OrderedStep step, CancellationToken cancellationToken)
    {
        var id = Guid.CreateVersion7(clock.Provider.GetUtcNow());
        var data = new CallData(
            id, null, "Test", null, null, null, "test", "none", "normal", null, null, clock.Wall,
            $"This is a test: {step.Step.Who} would be called this way. Nothing is wrong.", null);
        // Remembered before it leaves: the answer may be here before the receiver has finished its own.
        Set(new CallTestView(id, step.Step.Id, step.Step.Who, step.Channel, clock.Wall, false, false, null, "The test is on its way."));
        SendResult result = await outbox.TryAsync(
            step, new CallMessage(CallMessage.Test, clock.Wall, "Test of the call-out: nothing is wrong", data),
            $"test_{id:N}", links.Make(id, step.Step.Who, out _), cancellationToken);
        string words = result.Delivered
            ? $"The {step.Channel} receiver of {step.Step.Who} took the test. It is proven when {step.Step.Who} opens the link in it and says so."
            : result.Error ?? "It failed.";
        kept.Add(data, result.Delivered ? "test called" : "test failed", step.Step.Who,
            result.Delivered ? $"{step.Step.Who} was called by {step.Channel} as a test." : $"A test call of {step.Step.Who} by {step.Channel} failed: {words}",
            clock.Wall);
        return Change(id, test => test with { Delivered = result.Delivered || test.Answered, Words = test.Answered ? test.Words : words });
    }

    public CallTestView? Find(Guid id)
    {
        lock (_gate)
        {
            return _tests.GetValueOrDefault(id);
        }
    }

    /// <summary>The link was used: the message was seen by a person. Only the first time counts.</summary>
    /// <returns>The test, or null when it is not known (any more).</returns>
    public CallTestView? Answer(Guid id)
    {
        Instant now = clock.Wall;
        if (Find(id) is not { } before || before.Answered)
        {
            return Find(id);
        }

        CallTestView test = Change(id, t => t.Answered ? t : t with { Answered = true, AnsweredAt = now, Words = $"{t.Who} has seen the test." });
        kept.Add(
            new CallData(id, null, "Test", null, null, null, "test", "none", "normal", null, null, now, test.Words, null),
            "test answered", test.Who, test.Words, now);
        return test;
    }

    private void Set(CallTestView test)
    {
        lock (_gate)
        {
            _tests[test.Id] = test;
            _order.Enqueue(test.Id);
            while (_order.Count > Most)
            {
                _tests.Remove(_order.Dequeue());
            }
        }
    }

    private CallTestView Change(Guid id, Func<CallTestView, CallTestView> change)
    {
        lock (_gate)
        {
            // Forgotten meanwhile only when a hundred others were sent while this one was on its way.
            CallTestView test = change(_tests.GetValueOrDefault(id)
                ?? new CallTestView(id, Guid.Empty, "", "", clock.Wall, false, false, null, ""));
            if (_tests.ContainsKey(id))
            {
                _tests[id] = test;
            }

            return test;
        }
    }
}
