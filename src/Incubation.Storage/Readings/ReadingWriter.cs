using System.Threading.Channels;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Storage.Readings.Spool;

namespace Incubation.Storage.Readings;

/// <summary>
/// The one thread that writes readings. It takes what waits, commits it together and tells whoever waits; where it goes when the database
/// takes nothing is <see cref="CommitWay"/>'s matter. A failed commit fails its own callers and no others: the next opens the file afresh.
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
    private readonly CommitWay _way;
    private WriteSession? _session;

    /// <summary>Opens the file, stores what was spooled before, and starts the thread.</summary>
    /// <exception cref="StoreUnavailableException">The file can't be opened or isn't ours.</exception>
    public ReadingWriter(SqliteReadingStoreOptions options, Action stateChanged)
    {
        _options = options;
        _session = Open();
        _way = Way();
        _way.Telling.Changed += stateChanged;
        _way.Start(file => CaughtUpNote.Read((_session ??= Open()).Connection, file));
        new Thread(Run) { IsBackground = true, Name = "readings writer" }.Start();
    }

    /// <summary>Where readings go now.</summary>
    public StoreState State => _way.Telling.State;

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
        while (true)
        {
            if (HasMore(_way.NextRound))
            {
                TakeBatch();
                CommitBatch();
            }
            else if (_queue.Reader.Completion.IsCompleted)
            {
                break;
            }
            else
            {
                _way.Tend();
            }
        }

        Close(checkpoint: true);
        _way.Dispose();
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
            long now = Now;
            while (_readings < Limits.CommitBatch && _queue.Reader.TryPeek(out PendingCommit? next) && (next.Chore is null || _batch.Count == 0))
            {
                _queue.Reader.TryRead(out _);
                _batch.Add(next);
                _readings += next.Readings.Length;
                if (next.Chore is not null)
                {
                    return;
                }

                CommitPace.Arrived(now, next);
            }
        }
        while (!_queue.Reader.TryPeek(out _) && !_options.CommitAtOnce && _pace.Wait(Now, _batch, _readings) is > 0 and int wait && HasMore(wait));
    }

    private static long Now => (long)TimeProvider.System.GetElapsedTime(0).TotalMilliseconds;

    private void CommitBatch()
    {
        try
        {
            if (_batch[0].Chore is { } chore)
            {
                InSession(session => session.Do(chore));
            }
            else
            {
                _way.Commit(_batch);
                _pace.Answered(Now, _batch);
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
            _pace.Answered(Now, _batch);
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

    private CommitWay Way() => new(_options.Spool, _options.Time, (batch, within) => InSession(session => session.Commit(batch, within)));

    // What failed may have left anything behind in memory: the next one opens the file afresh.
    private void InSession(Action<WriteSession> work)
    {
        try
        {
            work(_session ??= Open());
        }
        catch
        {
            Close(checkpoint: false);
            throw;
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
