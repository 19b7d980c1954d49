using Incubation.Core;
using Incubation.Core.Readings;
using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings.Spool;

/// <summary>Stores readings in one transaction, with what else belongs into it.</summary>
internal delegate void DatabaseCommit(IReadOnlyList<PendingCommit> batch, Action<SqliteConnection>? within);

/// <summary>
/// Where a batch goes: into the database; when that takes nothing, into the spool file; and when that fails too, back to the sender. While
/// anything waits in the spool, fresh readings queue up behind it, so that all come into the database in their order. The database is tried
/// again after a pause that grows. The writer's thread only, but for <see cref="Telling"/>.
/// </summary>
internal sealed class CommitWay : IDisposable
{
    private static readonly TimeSpan FirstRetry = TimeSpan.FromSeconds(0.5), Round = TimeSpan.FromSeconds(5), RemakeSpool = TimeSpan.FromMinutes(1);

    private readonly SpoolOptions? _options;
    private readonly TimeProvider _time;
    private readonly DatabaseCommit _commit;
    private readonly StoreTelling _telling;
    private readonly List<Reading> _taken = [];
    private SpoolFile? _spool;
    private TimeSpan _pause;
    private int _failures;
    private long _triedAt, _lookedAt, _madeAt;
    private string _databaseWords = "", _spoolWords = "";

    public CommitWay(SpoolOptions? options, TimeProvider time, DatabaseCommit commit)
    {
        (_options, _time, _commit) = (options, time, commit);
        _telling = new StoreTelling(time);
        _triedAt = _lookedAt = _madeAt = time.GetTimestamp();
    }

    public StoreTelling Telling => _telling;

    /// <summary>Milliseconds until <see cref="Tend"/> is due although nothing came; −1 when it never is.</summary>
    public int NextRound
    {
        get
        {
            if (_options is null)
            {
                return Timeout.Infinite;
            }

            TimeSpan next = Round - _time.GetElapsedTime(_lookedAt);
            if (_spool is { IsEmpty: false } && !MustSpare)
            {
                TimeSpan retry = _pause - _time.GetElapsedTime(_triedAt);
                next = retry < next ? retry : next;
            }

            return Math.Max(0, (int)Math.Ceiling(next.TotalMilliseconds));
        }
    }

    private bool IsDue => _spool is null || _pause == TimeSpan.Zero || _time.GetElapsedTime(_triedAt) >= _pause;

    private bool MustSpare => _options?.Reserve?.MustSpare == true;

    /// <summary>Opens the spool and stores what it holds from before.</summary>
    /// <param name="caughtUp">How far the database says that a spool file is caught up.</param>
    public void Start(Func<long, long> caughtUp)
    {
        if (_options is null)
        {
            return;
        }

        _options.Reserve?.Look();
        OpenSpool();
        if (_spool is { } spool)
        {
            try
            {
                spool.Skip(caughtUp(spool.Name));
            }
            catch (Exception error) when (error is IOException or InvalidDataException or SqliteException)
            {
                _spoolWords = StoreTrouble.From(error).Message;
            }
        }

        _ = CatchUp(long.MaxValue);
        Tell();
    }

    /// <summary>Stores a batch where there is a place; on return it is on the disk.</summary>
    /// <exception cref="StoreUnavailableException">Nowhere; none of it may be acknowledged.</exception>
    public void Commit(IReadOnlyList<PendingCommit> batch)
    {
        int failures = _failures;
        if (!MustSpare && IsDue && CatchUp(Limits.CatchUpBatch) && ToDatabase(batch))
        {
            Tell();
            return;
        }

        if (ToSpool(batch))
        {
            Tell();
            return;
        }

        // A full spool before a database that is well: better a pause than a refusal.
        if (_failures == failures && IsDue && CatchUp(long.MaxValue) && ToDatabase(batch))
        {
            Tell();
            return;
        }

        throw Refuse();
    }

    /// <summary>What is to be done now and then: look at the disk, try the database, make what is missing.</summary>
    public void Tend()
    {
        if (_time.GetElapsedTime(_lookedAt) >= Round)
        {
            _lookedAt = _time.GetTimestamp();
            _options?.Reserve?.Look();
            if (_spool is null && _time.GetElapsedTime(_madeAt) >= RemakeSpool)
            {
                OpenSpool();
            }
        }

        if (!MustSpare && IsDue)
        {
            _ = CatchUp(Limits.CatchUpBatch);
        }

        Tell();
    }

    public void Dispose() => _spool?.Dispose();

    private void OpenSpool()
    {
        _madeAt = _time.GetTimestamp();
        try
        {
            _spool = SpoolFile.Open(_options!.Path, _options.Bytes);
            _spoolWords = "";
        }
        catch (Exception error) when (error is IOException or InvalidDataException)
        {
            _spoolWords = $"The spool file could not be made: {error.Message}";
        }
    }

    // True when nothing waits any more.
    private bool CatchUp(long most)
    {
        while (_spool is { IsEmpty: false } spool && most > 0)
        {
            long before = spool.Taken;
            try
            {
                _taken.Clear();
                spool.Take(Limits.CommitBatch, _taken);
                PendingCommit part = new(_taken.ToArray());
                InDatabase([part], connection => CaughtUpNote.Write(connection, spool.Name, spool.Taken));
                most -= _taken.Count;
            }
            // Whatever it was: what waits stays where it is, and is tried again.
            catch (Exception error)
            {
                spool.TakeBack(before);
                Failed(error);
                return false;
            }

            if (spool.IsEmpty)
            {
                Clear(spool);
            }
        }

        return _spool is not { IsEmpty: false };
    }

    private void Clear(SpoolFile spool)
    {
        try
        {
            spool.Clear();
        }
        catch (IOException error)
        {
            // The note in the database keeps it from being counted twice; it is begun anew before the next reading goes in.
            _spoolWords = error.Message;
        }
    }

    private bool ToDatabase(IReadOnlyList<PendingCommit> batch)
    {
        try
        {
            InDatabase(batch, within: null);
            return true;
        }
        catch (Exception error) when (StoreTrouble.IsOfTheDisk(error))
        {
            Failed(error);
            return false;
        }
    }

    private void InDatabase(IReadOnlyList<PendingCommit> batch, Action<SqliteConnection>? within)
    {
        try
        {
            _commit(batch, within);
        }
        catch (Exception error) when (StoreTrouble.IsFull(error) && _options?.Reserve?.GiveUpNow() == true)
        {
            _commit(batch, within);
        }

        (_pause, _databaseWords) = (TimeSpan.Zero, "");
    }

    private void Failed(Exception error)
    {
        _failures++;
        _databaseWords = StoreTrouble.From(error).Message;
        _triedAt = _time.GetTimestamp();
        TimeSpan longest = _options?.LongestRetry ?? TimeSpan.Zero, next = _pause == TimeSpan.Zero ? FirstRetry : 2 * _pause;
        _pause = next < longest ? next : longest;
    }

    private bool ToSpool(IReadOnlyList<PendingCommit> batch)
    {
        if (_spool is null)
        {
            return false;
        }

        try
        {
            bool fits = _spool.Add(batch);
            _spoolWords = fits ? "" : "The spool file is full.";
            return fits;
        }
        catch (IOException error)
        {
            _spoolWords = $"The spool file can't be written either: {error.Message}.";
            return false;
        }
    }

    private StoreUnavailableException Refuse()
    {
        string cause = _databaseWords.Length > 0 ? _databaseWords : StoreTelling.NoRoom;
        string words = _spoolWords.Length > 0 ? $"{cause} {_spoolWords}" : cause;
        _telling.Tell(StoreKind.Refusing, words, _spool, NearlyFull);
        return new StoreUnavailableException(words);
    }

    private bool NearlyFull => _options?.Reserve?.Held == false;

    private void Tell() => _telling.Tell(
        _spool is { IsEmpty: false } ? StoreKind.Spooling : StoreKind.Well, MustSpare ? StoreTelling.NoRoom : _databaseWords, _spool, NearlyFull);
}
