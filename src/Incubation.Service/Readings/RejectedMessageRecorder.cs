using Incubation.Service.Hosting;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;

namespace Incubation.Service.Readings;

/// <summary>Writes the list of rejected messages into the records, at most once every few seconds however many come.</summary>
internal sealed class RejectedMessageRecorder(
    WorkerSupport support, RejectedMessages rejected, IDbContextFactory<RecordsContext> records)
    : SupervisedWorker(support, "rejected messages", stallsAfter: TimeSpan.FromMinutes(1))
{
    private static readonly TimeSpan Every = TimeSpan.FromSeconds(3);

    private bool _failing;

    /// <summary>Reads what was written before; called once before the first message may arrive.</summary>
    public static async Task LoadAsync(
        RejectedMessages rejected, IDbContextFactory<RecordsContext> records, CancellationToken cancellationToken)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        List<RejectedMessageRecord> rows = await context.RejectedMessages.AsNoTracking().ToListAsync(cancellationToken);
        rejected.Load(rows.Select(r => new RejectedMessage(r.Topic, r.Reason, r.PayloadStart, r.Count, r.FirstAt, r.LastAt)));
    }

    protected override async Task RunAsync(CancellationToken stop)
    {
        using PeriodicTimer timer = new(Every, Time);
        try
        {
            while (await timer.WaitForNextTickAsync(stop))
            {
                await WriteAsync(stop);
                Progress();
            }
        }
        catch (OperationCanceledException)
        {
            await WriteAsync(CancellationToken.None);
        }
    }

    private async Task WriteAsync(CancellationToken cancellationToken)
    {
        if (rejected.TakeChanged() is not { } messages)
        {
            return;
        }

        try
        {
            await WriteAsync(messages, cancellationToken);
            _failing = false;
        }
        catch (Exception error) when (error is not OperationCanceledException)
        {
            rejected.NotWritten();
            if (!_failing)
            {
                Log.LogError(error, "The list of rejected messages could not be written to the records; it stays in memory");
                _failing = true;
            }
        }
        catch (OperationCanceledException)
        {
            rejected.NotWritten();
            throw;
        }
    }

    private async Task WriteAsync(IReadOnlyList<RejectedMessage> messages, CancellationToken cancellationToken)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        Dictionary<(string, string), RejectedMessageRecord> rows = await context.RejectedMessages
            .ToDictionaryAsync(r => (r.Topic, r.Reason), cancellationToken);
        foreach (RejectedMessage message in messages)
        {
            if (rows.Remove((message.Topic, message.Reason), out RejectedMessageRecord? row))
            {
                (row.PayloadStart, row.Count, row.LastAt) = (message.PayloadStart, message.Count, message.LastAt);
                continue;
            }

            context.RejectedMessages.Add(new RejectedMessageRecord
            {
                Topic = message.Topic,
                Reason = message.Reason,
                PayloadStart = message.PayloadStart,
                Count = message.Count,
                FirstAt = message.FirstAt,
                LastAt = message.LastAt,
            });
        }

        context.RejectedMessages.RemoveRange(rows.Values);
        await context.SaveChangesAsync(cancellationToken);
    }
}
