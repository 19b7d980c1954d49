using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Storage.Readings;
using NodaTime;

namespace Incubation.Storage.Influx;

/// <summary>How the copy is doing, for people.</summary>
/// <param name="Condition">Whether it goes on by itself.</param>
/// <param name="Waiting">Readings that wait one by one.</param>
/// <param name="DaysWaiting">Days of a series that are still to be copied whole.</param>
/// <param name="OldestWaiting">Time of the oldest reading that waits.</param>
/// <param name="Refused">Readings set aside.</param>
/// <param name="Words">The whole of it in plain words.</param>
public sealed record CopyView(CopyCondition Condition, long Waiting, int DaysWaiting, Instant? OldestWaiting, int Refused, string Words);

/// <summary>
/// Copies readings out to InfluxDB, one write after another: new readings first, then the days that have to be copied whole. One caller only;
/// <see cref="View"/> may be asked by anyone.
/// </summary>
public sealed class InfluxCopy : IDisposable
{
    private const int RowsBeforeADay = 20;
    private const int DaysAhead = 200;
    private static readonly TimeSpan Idle = TimeSpan.FromSeconds(1);

    private readonly CopyOutbox _outbox;
    private readonly IReadingStore _store;
    private readonly IPointWriter _writer;
    private readonly TimeProvider _time;
    private readonly Func<double> _chance;
    private readonly Queue<CopyDay> _days = [];
    private CopyBatch? _batch;
    private int _failures, _most = Limits.CopyPoints, _rowsSinceDay;
    private volatile WriteState _state = new(CopyCondition.Well, "Nothing has been sent yet.");

    /// <summary>A copy to a server.</summary>
    public InfluxCopy(CopyOutbox outbox, IReadingStore store, InfluxSettings settings, TimeProvider time, Func<double> chance)
        : this(outbox, store, new InfluxPointWriter(settings), time, chance) { }

    internal InfluxCopy(CopyOutbox outbox, IReadingStore store, IPointWriter writer, TimeProvider time, Func<double> chance)
        => (_outbox, _store, _writer, _time, _chance) = (outbox, store, writer, time, chance);

    /// <summary>Sends one write, or finds that nothing waits; returns how long to wait before the next step.</summary>
    public async Task<TimeSpan> StepAsync(CancellationToken cancellationToken)
    {
        _batch ??= NextBatch();
        if (_batch is not { } batch)
        {
            return Idle;
        }

        if (!batch.IsOver)
        {
            List<string> lines = batch.Lines(_most);
            WriteAnswer answer = await _writer.WriteAsync(lines, cancellationToken);
            cancellationToken.ThrowIfCancellationRequested();
            WriteVerdict verdict = WritePolicy.Judge(answer, lines.Count, _failures, _chance());
            _failures = verdict.Condition == CopyCondition.Well ? 0 : _failures + 1;
            Follow(batch, verdict, lines.Count);
            if (verdict.Move == NextMove.Again)
            {
                return verdict.Pause;
            }
        }

        if (batch.IsOver)
        {
            Settle(batch);
        }

        return TimeSpan.Zero;
    }

    /// <summary>Whether it goes on by itself.</summary>
    public CopyCondition Condition => _state.Condition;

    /// <summary>What came of the last write, in words.</summary>
    public string Said => _state.Words;

    /// <summary>How it is doing now.</summary>
    public CopyView View()
    {
        (long waiting, int refused, bool full) = _outbox.Counts;
        (int days, int held, Instant? oldest) = _outbox.Debt();
        WriteState state = _state;
        return new CopyView(state.Condition, waiting, days, oldest, refused, CopyWords.Of(state.Condition, state.Words, waiting, days, held, refused, full));
    }

    /// <summary>Readings that were set aside, newest first.</summary>
    public IReadOnlyList<RefusedCopy> Refused(int most) => _outbox.Refused(most);

    /// <inheritdoc/>
    public void Dispose() => (_writer as IDisposable)?.Dispose();

    private void Follow(CopyBatch batch, WriteVerdict verdict, int lines)
    {
        switch (verdict.Move)
        {
            case NextMove.Done:
                batch.Arrived();
                break;
            case NextMove.Split:
                batch.Split();
                return;
            case NextMove.SplitForGood:
                _most = Math.Max(1, lines / 2);
                return;
            case NextMove.SetAside:
                batch.SetAside(verdict.Words);
                return;
        }

        _state = new WriteState(verdict.Condition, verdict.Words);
    }

    private void Settle(CopyBatch batch)
    {
        Instant now = Instant.FromDateTimeOffset(_time.GetUtcNow());
        if (batch.UpTo is { } id)
        {
            _outbox.Sent(id, batch.Refused, now);
        }
        else if (batch.Day is { } day)
        {
            _outbox.Done(day, batch.Refused, now);
        }

        _batch = null;
    }

    // New readings first; but a day now and then, so that a copy that can only just keep up still gets whole.
    private CopyBatch? NextBatch()
    {
        if (_rowsSinceDay < RowsBeforeADay && NextRows() is { } rows)
        {
            _rowsSinceDay++;
            return rows;
        }

        _rowsSinceDay = 0;
        return NextDay() ?? NextRows();
    }

    private CopyBatch? NextRows()
    {
        IReadOnlyList<CopyRow> rows = _outbox.Next(_most);
        return rows.Count == 0 ? null : new CopyBatch([.. rows.Select(row => (row.Series, row.Reading))], rows[^1].Id, null);
    }

    // A day is read at once and sent without anything in between, so that what was read never overwrites what came later.
    private CopyBatch? NextDay()
    {
        if (_days.Count == 0)
        {
            foreach (CopyDay one in _outbox.NextDays(DaysAhead))
            {
                _days.Enqueue(one);
            }
        }

        if (!_days.TryDequeue(out CopyDay day))
        {
            return null;
        }

        Instant start = Instant.FromUnixTimeMilliseconds(day.StartMs);
        IReadOnlyList<Reading> readings = _store.Read(day.Key, start, start + Duration.FromMilliseconds(CopyOutbox.DayMs));
        return new CopyBatch([.. readings.Select(reading => (day.Series, reading))], null, day);
    }

    private sealed record WriteState(CopyCondition Condition, string Words);
}
