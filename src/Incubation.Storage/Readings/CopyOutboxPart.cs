using Incubation.Core;
using Incubation.Core.Readings;
using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings;

/// <summary>The outbox within the writer's transactions: enters each reading, and writes down what has been copied since the last one.</summary>
internal sealed class CopyOutboxPart : ICommitPart
{
    private readonly CopyOutbox _outbox;
    private readonly Statement _enter, _drop, _noteDay, _dropDay, _holdDay, _refuse;
    private readonly HashSet<(long Series, long Day)> _days = [];
    private long _droppedTo;

    public CopyOutboxPart(CopyOutbox outbox, SqliteConnection connection, long droppedTo)
    {
        (_outbox, _droppedTo) = (outbox, droppedTo);
        _enter = new Statement(connection, "INSERT INTO copy_outbox (id, series, at, value, marks) VALUES (?1, ?2, ?3, ?4, ?5)");
        _drop = new Statement(connection, "DELETE FROM copy_outbox WHERE id > ?1 AND id <= ?2");
        _noteDay = new Statement(connection, """
            INSERT INTO copy_day (series, day, changes, held) VALUES (?1, ?2, ?3, 0)
            ON CONFLICT DO UPDATE SET changes = excluded.changes, held = 0
            """);
        _dropDay = new Statement(connection, "DELETE FROM copy_day WHERE series = ?1 AND day = ?2 AND changes = ?3");
        _holdDay = new Statement(connection, """
            INSERT INTO copy_day (series, day, changes, held) VALUES (?1, ?2, ?3, 1) ON CONFLICT DO NOTHING
            """);
        _refuse = new Statement(connection, """
            INSERT INTO copy_refused (series, at, value, marks, reason, refused) VALUES (?1, ?2, ?3, ?4, ?5, ?6)
            ON CONFLICT DO UPDATE SET value = excluded.value, marks = excluded.marks, reason = excluded.reason, refused = excluded.refused
            """);
    }

    public void Add(long series, in SeriesKey key, in Reading stored)
    {
        long at = stored.At.ToUnixTimeMilliseconds();
        if (_outbox.NextId() is { } id)
        {
            _enter.Bind(1, id).Bind(2, series).Bind(3, at).Bind(4, stored.Value).Bind(5, (long)stored.Marks).Run();
        }
        else
        {
            _days.Add((series, CopyOutbox.DayOf(at)));
        }
    }

    public void Flush()
    {
        (CopyActs acts, long sentTo) = _outbox.Take(this);
        foreach (CopyDay day in acts.Done)
        {
            _dropDay.Bind(1, day.Series).Bind(2, day.StartMs).Bind(3, day.Changes).Run();
        }

        foreach ((long series, long day) in _days)
        {
            _noteDay.Bind(1, series).Bind(2, day).Bind(3, _outbox.NextChange()).Run();
        }

        foreach (CopyDay day in acts.Held)
        {
            _holdDay.Bind(1, day.Series).Bind(2, day.StartMs).Bind(3, _outbox.NextChange()).Run();
        }

        foreach (RefusedRow row in acts.Refused)
        {
            _refuse.Bind(1, row.Series).Bind(2, row.At).Bind(3, row.Value).Bind(4, (long)row.Marks).Bind(5, row.Reason).Bind(6, row.RefusedAt).Run();
        }

        _days.Clear();
        DropSome(sentTo);
    }

    public void Dispose()
    {
        foreach (Statement statement in new[] { _enter, _drop, _noteDay, _dropDay, _holdDay, _refuse })
        {
            statement.Dispose();
        }
    }

    // A day's backlog that went out at once is dropped in pieces, so that no reading's commit waits long for it.
    private void DropSome(long sentTo)
    {
        long to = Math.Min(sentTo, _droppedTo + Limits.CopyRowsDropped);
        if (to > _droppedTo)
        {
            _drop.Bind(1, _droppedTo).Bind(2, to).Run();
            _droppedTo = to;
        }
    }
}
