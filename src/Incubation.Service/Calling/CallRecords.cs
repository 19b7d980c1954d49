using Incubation.Service.Alarms;
using Incubation.Storage.Records;
using NodaTime;

namespace Incubation.Service.Calling;

/// <summary>Writes calls and what came of them into the records, in the background.</summary>
internal sealed class CallRecords(RecordsWriter writer)
{
    /// <summary>Keeps the call as it is now. Completes when it is on disk.</summary>
    public Task Save(CallRecord call)
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

    /// <summary>"Ada was called by mail.", "Bo could not be called by webhook: …", in the journal of the alarm.</summary>
    public void Note(CallRecord call, CallData data, bool delivered, string words, Instant at)
        => Add(data, delivered ? "called" : "call failed", call.Who, words, at);

    /// <summary>A line of the journal about a call.</summary>
    public void Add(CallData data, string what, string who, string words, Instant at) => _ = writer.Add((records, _) =>
    {
        records.AlarmJournal.Add(new AlarmJournalRecord
        {
            Occurrence = data.Occurrence,
            Incubator = data.Incubator ?? "",
            Probe = data.Probe ?? "",
            Quantity = data.Quantity ?? "",
            Condition = data.Condition,
            Severity = data.Severity,
            Event = what,
            FromState = data.State,
            ToState = data.State,
            At = at,
            Value = data.Value,
            Limit = data.Limit,
            By = who,
            Words = words,
        });
        return Task.CompletedTask;
    });
}
