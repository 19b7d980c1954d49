using System.Collections.Concurrent;
using Incubation.Core;
using Incubation.Core.Alarms;
using Incubation.Service.Hosting;
using Incubation.Storage.Records;
using NodaTime;

namespace Incubation.Service.Calling;

/// <summary>
/// Calls on their way. Each is handed to the disk first, but never waits for it longer than <see cref="PatienceWithDisk"/>, and is then
/// tried until it is delivered, no longer needed or given up. One that hangs holds up no other step.
/// </summary>
internal sealed class Outbox(
    IEnumerable<ICallSender> senders, AnswerLinks links, CallOrder order, CallRecords kept, CallFaults faults, ServiceClock clock,
    ILogger<Outbox> log) : IDisposable
{
    /// <summary>
    /// A quick disk has the call and its answer link before they leave the house; a slow one has them a little later. What that risks is
    /// one answer link that is unknown after a crash in just that moment: the next call brings a new one.
    /// </summary>
    private static readonly TimeSpan PatienceWithDisk = TimeSpan.FromMilliseconds(20);

    /// <summary>Attempts at once for one step: a second alarm must not wait for a receiver that hangs with the first.</summary>
    private const int LinesPerStep = 4;

    private readonly Dictionary<string, ICallSender> _senders = senders.ToDictionary(s => s.Channel);
    private readonly ConcurrentDictionary<string, Open> _open = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<Guid, SemaphoreSlim> _lines = new();
    private readonly CancellationTokenSource _stop = new();

    /// <summary>Calls that are neither delivered nor given up.</summary>
    public int Count => _open.Count;

    /// <summary>Takes a call. Repeats are left out when too many wait; first calls never are.</summary>
    public void Add(CallRecord record, CallMessage message, bool written)
    {
        if (_open.Count >= Limits.WaitingCalls && record.Round > 0)
        {
            return;
        }

        foreach (Open older in _open.Values.Where(o => o.Record.Occurrence == record.Occurrence && o.Record.Step == record.Step))
        {
            NotNeeded(older);
        }

        var open = new Open(record, message, CancellationTokenSource.CreateLinkedTokenSource(_stop.Token));
        if (_open.TryAdd(record.Id, open))
        {
            Task disk = written ? Task.CompletedTask : kept.Save(record);
            _ = DeliverAsync(open, disk);
        }
    }

    /// <summary>Someone has answered, or the alarm is over: what has not gone out need not.</summary>
    public void NotNeeded(Predicate<Guid> occurrence)
    {
        foreach (Open open in _open.Values.Where(o => occurrence(o.Record.Occurrence)))
        {
            NotNeeded(open);
        }
    }

    /// <summary>One attempt outside any alarm, marked as a test.</summary>
    public Task<SendResult> TryAsync(OrderedStep step, CallMessage message, string id, string link, CancellationToken cancellationToken)
        => SendAsync(
            step.Channel,
            new OutgoingCall(id, message.Data.Occurrence, step.Step.Who, step.Address, step.Secret, message, link), step.Step.Id, cancellationToken);

    public void Dispose()
    {
        _stop.Cancel();
        _stop.Dispose();
    }

    private void NotNeeded(Open open)
    {
        if (_open.TryRemove(open.Record.Id, out _))
        {
            open.Cancel.Cancel();
            Finish(open, "not needed", null);
        }
    }

    private async Task DeliverAsync(Open open, Task disk)
    {
        CancellationToken stop = open.Cancel.Token;
        try
        {
            Task link = Link(open, open.Record.Who);
            await Task.WhenAny(Task.WhenAll(disk, link), Task.Delay(PatienceWithDisk, clock.Provider, stop));
            Instant start = clock.Steady;
            while (!stop.IsCancellationRequested && await AttemptAsync(open, stop) is { } result)
            {
                if (result.Delivered || result.Final || clock.Steady - start > DeliveryBackOff.GiveUpAfter)
                {
                    Finish(open, result);
                    return;
                }

                Failed(open, result);
                await Task.Delay(DeliveryBackOff.After(open.Record.Attempts).ToTimeSpan(), clock.Provider, stop);
            }
        }
        catch (OperationCanceledException)
        {
            // No longer needed, or the service stops: then it waits in the records for the next start.
        }
        catch (ObjectDisposedException)
        {
            // The service stops.
        }
    }

    private Task Link(Open open, string who)
    {
        if (open.Message.Type != CallMessage.Raised)
        {
            return Task.CompletedTask;
        }

        (open.Link, open.LinkFor, Task written) = (links.Make(open.Record.Occurrence, who, out Task onDisk), who, onDisk);
        return written;
    }

    // Null when there is nobody to call any more. The order may have been mended since the call was made: the newest address counts.
    private async Task<SendResult?> AttemptAsync(Open open, CancellationToken stop)
    {
        if (order.Steps.FirstOrDefault(s => s.Step.Id == open.Record.Step && s.Enabled) is not { } step)
        {
            NotNeeded(open);
            return null;
        }

        SemaphoreSlim line = _lines.GetOrAdd(step.Step.Id, static _ => new SemaphoreSlim(LinesPerStep));
        await line.WaitAsync(stop);
        try
        {
            (open.Record.Who, open.Record.Channel, open.Record.Address) = (step.Step.Who, step.Channel, step.Address);
            open.Record.Attempts++;
            if (open.LinkFor != step.Step.Who)
            {
                _ = Link(open, step.Step.Who);
            }

            return await SendAsync(
                step.Channel,
                new OutgoingCall(open.Record.Id, open.Record.Occurrence, step.Step.Who, step.Address, step.Secret, open.Message, open.Link),
                step.Step.Id, _stop.Token);
        }
        finally
        {
            line.Release();
        }
    }

    private async Task<SendResult> SendAsync(string channel, OutgoingCall call, Guid step, CancellationToken stop)
    {
        SendResult result;
        try
        {
            result = _senders.TryGetValue(channel, out ICallSender? sender)
                ? await sender.SendAsync(call, stop)
                : new SendResult(false, $"There is no channel {channel}.", Final: true);
        }
#pragma warning disable CA1031 // A fault in a sender must not end the calling: it counts as a failed attempt.
        catch (Exception error) when (error is not OperationCanceledException)
#pragma warning restore CA1031
        {
            log.LogError(error, "Calling {Who} by {Channel} failed unexpectedly", call.Who, channel);
            result = new SendResult(false, error.Message);
        }

        faults.Note(step, call.Address, result);
        return result;
    }

    // The first failure of a call is evidence too: the journal tells who was tried in vain, and when. Further tries are in the call's own record.
    private void Failed(Open open, SendResult result)
    {
        bool first = open.Record.LastError is null;
        open.Record.LastError = result.Error;
        log.LogWarning("Calling {Who} by {Channel} failed: {Error}", open.Record.Who, open.Record.Channel, result.Error);
        if (_open.ContainsKey(open.Record.Id))
        {
            _ = kept.Save(open.Record);
        }

        if (first)
        {
            kept.Note(open.Record, open.Message.Data, delivered: false,
                $"{open.Record.Who} could not be called by {open.Record.Channel} and is tried again: {result.Error}", clock.Wall);
        }
    }

    private void Finish(Open open, SendResult result)
    {
        bool still = _open.TryRemove(open.Record.Id, out _);
        if (!still && !result.Delivered)
        {
            return;
        }

        // What was delivered although it was no longer needed was delivered all the same, and the records say so.
        Finish(open, result.Delivered ? "delivered" : "failed", result.Error);
        kept.Note(open.Record, open.Message.Data, result.Delivered, result.Delivered
            ? $"{open.Record.Who} was called by {open.Record.Channel}."
            : $"{open.Record.Who} could not be called by {open.Record.Channel}: {result.Error}", clock.Wall);
    }

    private void Finish(Open open, string status, string? error)
    {
        open.Record.Status = status;
        open.Record.LastError = error ?? open.Record.LastError;
        open.Record.DeliveredAt = status == "delivered" ? clock.Wall : null;
        _ = kept.Save(open.Record);
    }

    private sealed class Open(CallRecord record, CallMessage message, CancellationTokenSource cancel)
    {
        public CallRecord Record => record;

        public CallMessage Message => message;

        public CancellationTokenSource Cancel => cancel;

        public string? Link { get; set; }

        public string LinkFor { get; set; } = record.Who;
    }
}
