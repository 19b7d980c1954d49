using System.Threading.Channels;
using Incubation.Core;
using Incubation.Core.Readings;

namespace Incubation.Storage.Readings;

/// <summary>
/// The one thread that writes readings. It takes what waits, commits it together and tells whoever waits. A failed commit fails its own
/// callers and no others: the next batch opens the file afresh.
/// </summary>
internal sealed class ReadingWriter
{
    private readonly SqliteReadingStoreOptions _options;
    private readonly Channel<PendingCommit> _queue = Channel.CreateBounded<PendingCommit>(
        new BoundedChannelOptions(Limits.WriterQueue) { SingleReader = true, FullMode = BoundedChannelFullMode.Wait });
    private readonly TaskCompletionSource _ended = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly List<PendingCommit> _batch = [];
    private readonly CommitPace _pace = new();
    private Task<bool>? _waiting;
    private int _readings;
    private WriteSession? _session;

    /// <summary>Opens the file and starts the thread.</summary>
    /// <exception cref="StoreUnavailableException">The file can't be opened or isn't ours.</exception>
    public ReadingWriter(SqliteReadingStoreOptions options)
    {
        _options = options;
        _session = Open();
        new Thread(Run) { IsBackground = true, Name = "readings writer" }.Start();
    }

    /// <summary>Hands over; waits only while the queue is full. The token is heard while waiting for room, not after.</summary>
    public Task AddAsync(PendingCommit pending, CancellationToken cancellationToken) =>
        _queue.Writer.TryWrite(pending) ? pending.Task : AddWhenRoomAsync(pending, cancellationToken);

    /// <summary>Takes no more, stores what waits and closes the file.</summary>
    public Task StopAsync()
    {
        _queue.Writer.TryComplete();
        return _ended.Task;
    }

    private async Task AddWhenRoomAsync(PendingCommit pending, CancellationToken cancellationToken)
    {
        try
        {
            await _queue.Writer.WriteAsync(pending, cancellationToken);
        }
        catch (ChannelClosedException)
        {
            throw StoreTrouble.Closed();
        }

        await pending.Task;
    }

    private void Run()
    {
        while (HasMore(Timeout.Infinite))
        {
            TakeBatch();
            CommitBatch();
        }

        Close(checkpoint: true);
        _ended.SetResult();
    }

    // A thread of its own may block, which a pool thread may not; the channel has no blocking wait itself.
    private bool HasMore(int milliseconds)
    {
        if (_queue.Reader.TryPeek(out _))
        {
            return true;
        }

        _waiting ??= _queue.Reader.WaitToReadAsync().AsTask();
        if (!_waiting.Wait(milliseconds))
        {
            return false;
        }

        bool more = _waiting.Result;
        _waiting = null;
        return more;
    }

    // Readings that came before a chore are committed before it.
    private void TakeBatch()
    {
        _readings = 0;
        do
        {
            while (_readings < Limits.CommitBatch && _queue.Reader.TryPeek(out PendingCommit? next) && (next.Chore is null || _batch.Count == 0))
            {
                _queue.Reader.TryRead(out _);
                _batch.Add(next);
                _readings += next.Readings.Length;
                if (next.Chore is not null)
                {
                    return;
                }
            }
        }
        while (!_queue.Reader.TryPeek(out _) && !_options.CommitAtOnce && _pace.Wait(Now, _batch, _readings) is > 0 and int wait && HasMore(wait));
    }

    private static long Now => (long)TimeProvider.System.GetElapsedTime(0).TotalMilliseconds;

    private void CommitBatch()
    {
        try
        {
            _session ??= Open();
            if (_batch[0].Chore is { } chore)
            {
                _session.Do(chore);
            }
            else
            {
                _session.Commit(_batch);
                _pace.Committed(Now, _batch, _readings);
            }

            foreach (PendingCommit pending in _batch)
            {
                pending.SetResult();
            }
        }
        // Whatever it was, nobody may wait for ever: every caller hears of it, and the next batch starts anew.
        catch (Exception error)
        {
            StoreUnavailableException words = StoreTrouble.From(error);
            Close(checkpoint: false);
            foreach (PendingCommit pending in _batch)
            {
                pending.TrySetException(words);
            }
        }
        finally
        {
            _batch.Clear();
        }
    }

    private WriteSession Open()
    {
        try
        {
            return new WriteSession(_options);
        }
        catch (Exception error) when (error is not StoreUnavailableException)
        {
            throw StoreTrouble.From(error);
        }
    }

    private void Close(bool checkpoint)
    {
        try
        {
            if (checkpoint)
            {
                _session?.Checkpoint();
            }

            _session?.Dispose();
        }
        catch (Exception error) when (error is Microsoft.Data.Sqlite.SqliteException or InvalidOperationException)
        {
            // Closing a file on a broken disk may fail too. What was acknowledged is in the write-ahead log already.
        }

        _session = null;
    }
}
