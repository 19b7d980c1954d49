using System.Threading.Channels;
using Incubation.Storage.Records;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;

namespace Incubation.Service.Alarms;

/// <summary>A change of the records that waits for the disk. It may be applied more than once and must come to the same.</summary>
internal delegate Task RecordChange(RecordsContext records, CancellationToken cancellationToken);

/// <summary>
/// Writes what alarms and calls leave behind, in order, in the background: nobody waits for the disk, and a disk that fails is tried
/// again until it takes everything. What waits is bounded (<see cref="Most"/>); beyond it the oldest is lost and the log says so.
/// </summary>
internal sealed class RecordsWriter(
    IDbContextFactory<RecordsContext> records, TimeProvider time, ILogger<RecordsWriter> log) : IDisposable
{
    /// <summary>Changes that wait: a week of a bad facility. Each is under a kilobyte.</summary>
    public const int Most = 20_000;

    private const int Batch = 200;
    private static readonly TimeSpan LongestPause = TimeSpan.FromSeconds(30);

    private readonly Channel<bool> _signal = Channel.CreateBounded<bool>(new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });
    private readonly LinkedList<Waiting> _waiting = new();
    private readonly Lock _gate = new();
    private long _lost;

    /// <summary>Changes that are not on disk yet.</summary>
    public int Behind
    {
        get
        {
            lock (_gate)
            {
                return _waiting.Count;
            }
        }
    }

    /// <summary>Takes a change; the task completes when it is on disk (or lost, which nobody may wait for for ever).</summary>
    public Task Add(RecordChange change)
    {
        var waiting = new Waiting(change);
        lock (_gate)
        {
            _waiting.AddLast(waiting);
            if (_waiting.Count > Most)
            {
                _waiting.First!.Value.Done.TrySetResult();
                _waiting.RemoveFirst();
                _lost++;
            }
        }

        _signal.Writer.TryWrite(true);
        return waiting.Done.Task;
    }

    public async Task RunAsync(Action progress, CancellationToken stop)
    {
        TimeSpan pause = TimeSpan.Zero;
        while (true)
        {
            Waiting[] batch = Peek();
            if (batch.Length == 0)
            {
                await _signal.Reader.ReadAsync(stop);
                continue;
            }

            progress();
            if (await WriteAsync(batch, stop))
            {
                pause = TimeSpan.Zero;
                continue;
            }

            pause = pause == TimeSpan.Zero ? TimeSpan.FromMilliseconds(500) : TimeSpan.FromTicks(Math.Min(pause.Ticks * 2, LongestPause.Ticks));
            await Task.Delay(pause, time, stop);
        }
    }

    /// <summary>Writes what still waits, once: when the service stops.</summary>
    public async Task DrainAsync(CancellationToken cancellationToken)
    {
        for (Waiting[] batch = Peek(); batch.Length > 0; batch = Peek())
        {
            if (!await WriteAsync(batch, cancellationToken))
            {
                return;
            }
        }
    }

    public void Dispose() => _signal.Writer.TryComplete();

    private Waiting[] Peek()
    {
        lock (_gate)
        {
            return [.. _waiting.Take(Batch)];
        }
    }

    private async Task<bool> WriteAsync(Waiting[] batch, CancellationToken stop)
    {
        try
        {
            await ApplyAsync(batch, stop);
            Finish(batch);
            return true;
        }
        catch (OperationCanceledException) when (stop.IsCancellationRequested)
        {
            throw;
        }
#pragma warning disable CA1031 // Whatever the disk or the database says, alarms go on and this is tried again.
        catch (Exception error)
#pragma warning restore CA1031
        {
            if (batch.Length == 1 && error is DbUpdateException { InnerException: SqliteException { SqliteErrorCode: 19 } })
            {
                // The database refuses this change for what it says, not for the disk: trying again can't help, and others wait behind it.
                log.LogError(error, "A record of an alarm or call was refused and is lost");
                Finish(batch);
                return true;
            }

            log.LogWarning(error, "Records of alarms can't be written now; {Count} wait, alarms and calls go on", Behind);
            return batch.Length > 1 && await WriteAsync([batch[0]], stop);
        }
    }

    private async Task ApplyAsync(Waiting[] batch, CancellationToken stop)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(stop);
        foreach (Waiting waiting in batch)
        {
            await waiting.Change(context, stop);
        }

        await context.SaveChangesAsync(stop);
    }

    private void Finish(Waiting[] batch)
    {
        long lost;
        lock (_gate)
        {
            foreach (Waiting waiting in batch)
            {
                _waiting.Remove(waiting);
            }

            (lost, _lost) = (_lost, 0);
        }

        foreach (Waiting waiting in batch)
        {
            waiting.Done.TrySetResult();
        }

        if (lost > 0)
        {
            log.LogError("{Count} records of alarms and calls were lost because the disk could not be written for too long", lost);
        }
    }

    private sealed class Waiting(RecordChange change)
    {
        public RecordChange Change => change;

        public TaskCompletionSource Done { get; } = new(TaskCreationOptions.RunContinuationsAsynchronously);
    }
}
