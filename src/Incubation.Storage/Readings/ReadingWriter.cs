using System.Threading.Channels;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Storage.Readings.Spool;
using Microsoft.Data.Sqlite;

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
    private readonly CommitWay _way;
    private WriteSession? _session;
    private Task<bool>? _more;

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
        ChannelReader<PendingCommit> queue = _queue.Reader;
        // A thread of its own may block, which a pool thread may not; the channel has no blocking wait itself.
        while (WaitForWork(queue))
        {
            TakeBatch(queue);
            if (_batch.Count > 0)
            {
                CommitBatch();
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

    // Until something came or the way must be tended; false when nothing comes any more.
    private bool WaitForWork(ChannelReader<PendingCommit> queue)
    {
        if (queue.TryPeek(out _))
        {
            return true;
        }

        Task<bool> more = _more is { IsCompleted: false } waiting ? waiting : _more = queue.WaitToReadAsync().AsTask();
        if (_way.NextRound is { } round)
        {
            using CancellationTokenSource came = new();
            Task.WhenAny(more, Task.Delay(round, _options.Time, came.Token)).GetAwaiter().GetResult();
            came.Cancel();
            if (!more.IsCompleted)
            {
                return true;
            }
        }

        return more.GetAwaiter().GetResult();
    }

    private void TakeBatch(ChannelReader<PendingCommit> queue)
    {
        int readings = 0;
        while (readings < Limits.CommitBatch && queue.TryRead(out PendingCommit? pending))
        {
            _batch.Add(pending);
            readings += pending.Readings.Length;
        }
    }

    private void CommitBatch()
    {
        try
        {
            _way.Commit(_batch);
            foreach (PendingCommit pending in _batch)
            {
                pending.SetResult();
            }
        }
        // Whatever it was, nobody may wait for ever: every caller hears of it, and the next batch starts anew.
        catch (Exception error)
        {
            StoreUnavailableException words = StoreTrouble.From(error);
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

    private CommitWay Way() => new(_options.Spool, _options.Time, ToDatabase);

    private void ToDatabase(IReadOnlyList<PendingCommit> batch, Action<SqliteConnection>? within)
    {
        try
        {
            (_session ??= Open()).Commit(batch, within);
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
        catch (Exception error) when (error is SqliteException or InvalidOperationException)
        {
            // Closing a file on a broken disk may fail too. What was acknowledged is in the write-ahead log already.
        }

        _session = null;
    }
}
