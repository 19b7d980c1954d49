using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Storage.Readings.Queries;
using Incubation.Storage.Readings.Rollups;
using Microsoft.Data.Sqlite;
using NodaTime;

namespace Incubation.Storage.Readings;

/// <summary>
/// What is still to be copied out of the readings file, kept in that file. A reading enters in the transaction that stores it. Whoever copies
/// says what arrived; that is noted here, and written down by the next transaction of readings, so that nobody but the one writer writes.
/// After a crash a little is copied twice, which changes nothing: a point is its series and time.
/// <para>Bounded: beyond <see cref="Limits.CopyOutboxRows"/> only the days of new readings are noted, and each such day is copied afresh from
/// the store. The same way a copy is filled when it is new, and when a day has to be tried again.</para>
/// </summary>
public sealed class CopyOutbox
{
    /// <summary>Length of the days that are noted, milliseconds; days of UTC.</summary>
    public const long DayMs = Spans.Day;

    private readonly Lock _gate = new();
    private readonly ReadingQueries _queries;
    private readonly int _mostRows, _mostRefused;
    private CopyActs _pending = new(), _applied = new();
    private object? _session;
    private long _highest, _sentTo, _changes;
    private int _refused;
    private bool _full, _begun;

    /// <param name="path">The readings file.</param>
    /// <param name="target">Where the copy goes. When it is another one than before, everything is copied.</param>
    public CopyOutbox(string path, string target) : this(path, target, Limits.CopyOutboxRows, Limits.CopyRefused) { }

    internal CopyOutbox(string path, string target, int mostRows, int mostRefused)
        => (_queries, Target, _mostRows, _mostRefused) = (new ReadingQueries(path), target, mostRows, mostRefused);

    /// <summary>Where the copy goes.</summary>
    public string Target { get; }

    /// <summary>Readings that wait one by one, and those set aside.</summary>
    public (long Waiting, int Refused, bool Full) Counts
    {
        get
        {
            lock (_gate)
            {
                return (_highest - _sentTo, _refused, _full);
            }
        }
    }

    /// <summary>The next readings, oldest entry first; empty when none waits.</summary>
    public IReadOnlyList<CopyRow> Next(int most)
    {
        long after;
        lock (_gate)
        {
            after = _sentTo;
        }

        return _queries.Run(connection => CopyOutboxQueries.Rows(connection, after, most));
    }

    /// <summary>Every entry up to this one has arrived, apart from those that were refused.</summary>
    public void Sent(long id, IReadOnlyList<CopyRefusal> refused, Instant now)
    {
        lock (_gate)
        {
            _sentTo = Math.Max(_sentTo, id);
            _full &= _highest - _sentTo > _mostRows / 2;
            SetAside(refused, now);
        }
    }

    /// <summary>Days that are to be copied whole, newest first.</summary>
    public IReadOnlyList<CopyDay> NextDays(int most)
    {
        HashSet<CopyDay> known;
        lock (_gate)
        {
            known = [.. _pending.Done, .. _applied.Done, .. _pending.Held, .. _applied.Held];
        }

        return [.. _queries.Run(connection => CopyOutboxQueries.Days(connection, most + known.Count)).Where(day => !known.Contains(day)).Take(most)];
    }

    /// <summary>The day has arrived, apart from what was refused, as far as nothing was added to it since it was read.</summary>
    public void Done(CopyDay day, IReadOnlyList<CopyRefusal> refused, Instant now)
    {
        lock (_gate)
        {
            _pending.Done.Add(day);
            SetAside(refused, now);
        }
    }

    /// <summary>Days that wait or are held, and the time of the oldest reading that waits.</summary>
    public (int Days, int Held, Instant? Oldest) Debt()
    {
        long after;
        lock (_gate)
        {
            after = _sentTo;
        }

        return _queries.Run(connection => CopyOutboxQueries.Debt(connection, after));
    }

    /// <summary>The readings that were set aside, newest first.</summary>
    public IReadOnlyList<RefusedCopy> Refused(int most) => _queries.Run(connection => CopyOutboxQueries.Refused(connection, most));

    /// <summary>Lets go of the file.</summary>
    public void Close() => _queries.Close();

    internal static long DayOf(long at) => Spans.StartOf(at, DayMs);

    /// <summary>Drops what an earlier copy left in a readings file that no copy is made of any more. Before the file is opened for readings.</summary>
    /// <exception cref="StoreUnavailableException">The file can't be opened; with the cause and the fix.</exception>
    public static void Forget(string path)
    {
        if (!File.Exists(path))
        {
            return;
        }

        try
        {
            using SqliteConnection connection = new(new SqliteConnectionStringBuilder { DataSource = path, Pooling = false }.ToString());
            connection.Open();
            CopyOutboxSchema.Forget(connection);
        }
        catch (SqliteException error)
        {
            throw StoreTrouble.From(error);
        }
    }

    /// <summary>The part of the writer's transactions that keeps the outbox.</summary>
    internal ICommitPart Part(SqliteConnection connection)
    {
        (long highest, long lowest, long changes, int refused) = CopyOutboxSchema.Begin(connection, Target, first: !_begun);
        lock (_gate)
        {
            _highest = Math.Max(highest, _sentTo);
            lowest = highest == 0 ? _sentTo + 1 : lowest;
            _sentTo = Math.Max(_sentTo, lowest - 1);
            _changes = Math.Max(_changes, changes);
            _refused = _begun ? _refused : refused;
            _begun = true;
        }

        return new CopyOutboxPart(this, connection, droppedTo: lowest - 1);
    }

    /// <summary>The number of the next entry, or null when only its day may be noted.</summary>
    internal long? NextId()
    {
        lock (_gate)
        {
            _full |= _highest - _sentTo >= _mostRows;
            return _full ? null : ++_highest;
        }
    }

    /// <summary>Numbers grow with every change of a day, so that a day that changed while it was copied is told from one that didn't.</summary>
    internal long NextChange() => Interlocked.Increment(ref _changes);

    /// <summary>
    /// What the transaction has to write down. What the last one was given counts as written once the same session begins another; a session
    /// that was thrown away gives it back.
    /// </summary>
    internal (CopyActs Acts, long SentTo) Take(object session)
    {
        lock (_gate)
        {
            if (!ReferenceEquals(session, _session))
            {
                _pending.Join(_applied);
                _session = session;
            }

            (_applied, _pending) = (_pending, new CopyActs());
            return (_applied, _sentTo);
        }
    }

    // A refused reading is tried again after the next start. Beyond the bound its day is noted instead, so that nothing is forgotten.
    private void SetAside(IReadOnlyList<CopyRefusal> refused, Instant now)
    {
        foreach ((long series, Reading reading, string reason) in refused)
        {
            long at = reading.At.ToUnixTimeMilliseconds();
            if (++_refused <= _mostRefused)
            {
                _pending.Refused.Add(new RefusedRow(series, at, reading.Value, (int)reading.Marks, reason, now.ToUnixTimeMilliseconds()));
            }
            else
            {
                _pending.Held.Add(new CopyDay(series, reading.Series, DayOf(at), 0));
            }
        }
    }
}
