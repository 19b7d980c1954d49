using System.Collections.Concurrent;
using Incubation.Core;
using Incubation.Core.Alarms;
using Incubation.Service.Alarms;
using Incubation.Service.Hosting;
using Incubation.Storage.Records;
using NodaTime;

namespace Incubation.Service.Calling;

/// <summary>
/// Calls on their way. Each is written down first, unless the disk takes longer than half a second, and then tried until it is delivered,
/// no longer needed or given up. One that hangs holds up no other.
/// </summary>
internal sealed class Outbox(
    IEnumerable<ICallSender> senders, AnswerLinks links, CallOrder order, RecordsWriter writer, ServiceClock clock, ILogger<Outbox> log) : IDisposable
{
    private static readonly TimeSpan PatienceWithDisk = TimeSpan.FromMilliseconds(500);

    private readonly Dictionary<string, ICallSender> _senders = senders.ToDictionary(s => s.Channel);
    private readonly ConcurrentDictionary<string, Open> _open = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<Guid, string?> _lastError = new();
    private readonly SemaphoreSlim _lines = new(16);
    private readonly CancellationTokenSource _stop = new();

    /// <summary>Calls that are neither delivered nor given up.</summary>
    public int Count => _open.Count;

    /// <summary>What went wrong the last time a step was called, or null when it was reached or never called.</summary>
    public string? LastError(Guid step) => _lastError.GetValueOrDefault(step);

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
            Task disk = written ? Task.CompletedTask : Save(record);
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
    public Task<SendResult> TryAsync(OrderedStep step, CallMessage message, string id, CancellationToken cancellationToken)
        => _senders.TryGetValue(step.Channel, out ICallSender? sender)
            ? sender.SendAsync(new OutgoingCall(id, message.Data.Occurrence, step.Step.Who, step.Address, step.Secret, message, null), cancellationToken)
            : Task.FromResult(new SendResult(false, $"There is no channel {step.Channel}.", Final: true));

    public void Dispose()
    {
        _stop.Cancel();
        _stop.Dispose();
        _lines.Dispose();
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
            await Task.WhenAny(disk, Task.Delay(PatienceWithDisk, clock.Provider, stop));
            Instant start = clock.Steady;
            while (!stop.IsCancellationRequested)
            {
                SendResult result = await AttemptAsync(open, stop);
                if (result.Delivered || result.Final || clock.Steady - start > DeliveryBackOff.GiveUpAfter)
                {
                    if (_open.TryRemove(open.Record.Id, out _))
                    {
                        Finish(open, result.Delivered ? "delivered" : "failed", result.Error);
                    }

                    return;
                }

                open.Record.LastError = result.Error;
                log.LogWarning("Calling {Who} by {Channel} failed: {Error}", open.Record.Who, open.Record.Channel, result.Error);
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

    private async Task<SendResult> AttemptAsync(Open open, CancellationToken stop)
    {
        if (!_senders.TryGetValue(open.Record.Channel, out ICallSender? sender))
        {
            return new SendResult(false, $"There is no channel {open.Record.Channel}.", Final: true);
        }

        await _lines.WaitAsync(stop);
        try
        {
            open.Record.Attempts++;
            open.Link ??= open.Message.Type == CallMessage.Raised ? links.Make(open.Record.Occurrence, open.Record.Who) : null;
            string? secret = order.Steps.FirstOrDefault(s => s.Step.Id == open.Record.Step)?.Secret;
            SendResult result = await sender.SendAsync(
                new OutgoingCall(open.Record.Id, open.Record.Occurrence, open.Record.Who, open.Record.Address, secret, open.Message, open.Link),
                _stop.Token);
            _lastError[open.Record.Step] = result.Error;
            return result;
        }
#pragma warning disable CA1031 // A fault in a sender must not end the calling: it counts as a failed attempt.
        catch (Exception error) when (error is not OperationCanceledException)
#pragma warning restore CA1031
        {
            log.LogError(error, "Calling {Who} by {Channel} failed unexpectedly", open.Record.Who, open.Record.Channel);
            return new SendResult(false, error.Message);
        }
        finally
        {
            _lines.Release();
        }
    }

    private void Finish(Open open, string status, string? error)
    {
        Instant now = clock.Wall;
        open.Record.Status = status;
        open.Record.LastError = error ?? open.Record.LastError;
        open.Record.DeliveredAt = status == "delivered" ? now : null;
        _ = Save(open.Record);
        if (status != "not needed")
        {
            _ = Note(open, status, error, now);
        }
    }

    private Task Note(Open open, string status, string? error, Instant now)
    {
        CallData data = open.Message.Data;
        string words = status == "delivered"
            ? $"{open.Record.Who} was called by {open.Record.Channel}."
            : $"{open.Record.Who} could not be called by {open.Record.Channel}: {error}";
        return writer.Add((records, _) =>
        {
            records.AlarmJournal.Add(new AlarmJournalRecord
            {
                Occurrence = data.Occurrence,
                Incubator = data.Incubator ?? "",
                Probe = data.Probe ?? "",
                Quantity = data.Quantity ?? "",
                Condition = data.Condition,
                Severity = data.Severity,
                Event = status == "delivered" ? "called" : "call failed",
                FromState = data.State,
                ToState = data.State,
                At = now,
                Value = data.Value,
                Limit = data.Limit,
                By = open.Record.Who,
                Words = words,
            });
            return Task.CompletedTask;
        });
    }

    private Task Save(CallRecord call)
    {
        // A copy: the call goes on changing while this waits for the disk.
        var row = new CallRecord
        {
            Id = call.Id,
            Occurrence = call.Occurrence,
            Step = call.Step,
            Round = call.Round,
            Who = call.Who,
            Channel = call.Channel,
            Address = call.Address,
            Status = call.Status,
            Attempts = call.Attempts,
            CreatedAt = call.CreatedAt,
            DeliveredAt = call.DeliveredAt,
            LastError = call.LastError,
            Message = call.Message,
        };
        return writer.Add(async (records, cancel) =>
        {
            if (await records.Calls.FindAsync([row.Id], cancel) is { } kept)
            {
                records.Entry(kept).CurrentValues.SetValues(row);
            }
            else
            {
                records.Calls.Add(row);
            }
        });
    }

    private sealed class Open(CallRecord record, CallMessage message, CancellationTokenSource cancel)
    {
        public CallRecord Record => record;

        public CallMessage Message => message;

        public CancellationTokenSource Cancel => cancel;

        public string? Link { get; set; }
    }
}
