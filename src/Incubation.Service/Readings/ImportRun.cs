using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Service.Probes;
using Microsoft.Win32.SafeHandles;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>What a run needs of the service.</summary>
internal sealed record ImportSurroundings(
    ImportFiles Files, IReadingStore Store, IStoreState State, ReadingListeners Listeners, ProbeRegister Probes, TopicRoutes Routes, ServiceClock Clock);

/// <summary>
/// Reads one file from where it was left off to its end, a batch at a time. One batch is on its way to the disk while the next is read, and never
/// more, so that live readings wait for one of them at the most. What counts as done is what is on the disk: gone on with from there, lines that were
/// stored already are the same readings again and change nothing.
/// </summary>
internal sealed class ImportRun : IDisposable
{
    private const int BufferBytes = 1024 * 1024, CheckpointBytes = 8 * 1024 * 1024, KeepEveryBatches = 200, LookAtRoomEveryBatches = 50;

    private const string Waits = "Waits, since the disk takes nothing or is nearly full. It goes on by itself when there is room.";

    private static readonly Duration KeepEvery = Duration.FromSeconds(1);
    private static readonly TimeSpan Pause = TimeSpan.FromSeconds(1);

    private readonly ImportJob _job;
    private readonly ImportSurroundings _around;
    private readonly Func<ImportOutcome, Task> _keep;
    private readonly CancellationToken _halt;
    private readonly ImportTally _tally;
    private readonly ImportProbes _probes;
    private readonly ImportReader _reader;
    private readonly ImportReportFile _report;
    private readonly ImportLines _lines;
    private readonly HashSet<SeriesKey> _admitted = [];
    private readonly List<Reading> _batch = new(Limits.ImportBatch + Limits.ImportColumns);
    private readonly Action<ImportRefusal> _refuse;
    private (Task Done, Reading[] Readings, ImportOutcome Mark)? _storing;
    private Instant _keptAt;
    private int _batches;

    /// <param name="job">What to read.</param>
    /// <param name="around">What is needed of the service.</param>
    /// <param name="keep">Writes down how far it is; called now and then, after the readings are on the disk. Must not throw.</param>
    /// <param name="halt">Ends it where it is.</param>
    public ImportRun(ImportJob job, ImportSurroundings around, Func<ImportOutcome, Task> keep, CancellationToken halt)
    {
        (_job, _around, _keep, _halt) = (job, around, keep, halt);
        ImportOutcome from = job.From;
        _tally = new ImportTally
        {
            Taken = from.Taken,
            Refused = from.Refused,
            Earliest = from.Earliest,
            Latest = from.Latest,
            Reasons = from.Reasons,
            First = from.First,
        };
        Instant now = around.Clock.Wall;
        _probes = new ImportProbes(job.Plan, key => around.Probes.Find(key) is not null);
        _reader = new ImportReader(job.Plan, _probes, now + ProbeClock.Ahead, now);
        _report = new ImportReportFile(around.Files.ReportOf(job.Id, job.Dry), from.ReportBytes, from.Refused);
        _lines = new ImportLines(job.Plan, _reader, from.DoneBytes, from.Lines);
        _refuse = Refuse;
        _keptAt = around.Clock.Steady;
    }

    /// <summary>What came of it by now, with the names of the probes.</summary>
    public ImportOutcome Outcome(string state, string words) => _job.Now with { State = state, Words = words, Probes = _probes.Counts };

    /// <summary>Reads to the end of the file.</summary>
    /// <exception cref="OperationCanceledException">It was halted; what was on its way is stored and counted.</exception>
    /// <exception cref="StoreUnavailableException">The store took no more; what was stored before is counted.</exception>
    /// <exception cref="IOException">The file or the report can't be read or written.</exception>
    public async Task ReadAsync()
    {
        try
        {
            await ReadAllAsync();
            await StoreBatchAsync();
        }
        finally
        {
            await LandAsync();
            _report.Flush();
        }
    }

    public void Dispose() => _report.Dispose();

    private async Task ReadAllAsync()
    {
        using SafeFileHandle file = File.OpenHandle(
            _around.Files.PathOf(_job.Id), FileMode.Open, FileAccess.Read, FileShare.Read, FileOptions.SequentialScan | FileOptions.Asynchronous);
        byte[] buffer = new byte[BufferBytes];
        long next = _job.From.DoneBytes;
        int start = 0, end = 0;
        for (bool last = false; !last || start < end;)
        {
            buffer.AsSpan(start, end - start).CopyTo(buffer);
            (start, end) = (0, end - start);
            int count = await RandomAccess.ReadAsync(file, buffer.AsMemory(end), next, _halt);
            last = count == 0;
            (next, end) = (next + count, end + count);
            while (start < end && Take(buffer.AsSpan(start, end - start), last) is > 0 and int length)
            {
                start += length;
                if (_batch.Count >= Limits.ImportBatch)
                {
                    await StoreBatchAsync();
                }
            }

            if (!_lines.HeaderPending && _lines.Position - (_storing?.Mark ?? _job.Now).DoneBytes >= CheckpointBytes)
            {
                // Millions of refused lines make progress too.
                await StoreBatchAsync();
            }
        }
    }

    // What stands next in the bytes; returns how many are used up, 0 when more are needed.
    private int Take(ReadOnlySpan<byte> bytes, bool last)
    {
        int before = _batch.Count;
        long number = _lines.Line + 1;
        int length = _lines.Next(bytes, last, _batch, _refuse);
        Admit(before, bytes[..length], number);
        return length;
    }

    private void Admit(int from, ReadOnlySpan<byte> line, long number)
    {
        for (int i = from; i < _batch.Count;)
        {
            Reading reading = _batch[i];
            if (!_admitted.Contains(reading.Series))
            {
                if (Refusal(reading.Series) is { } reason)
                {
                    Refuse(_reader.Refusal(line, number, 0, reason));
                    _batch.RemoveAt(i);
                    continue;
                }

                _admitted.Add(reading.Series);
            }

            _tally.Take(reading.At);
            i++;
        }
    }

    // A trial makes no probe known.
    private string? Refusal(in SeriesKey series) =>
        _job.Dry ? null
        : _around.Probes.Hear(series.Probe, _around.Clock.Wall) is null ? ImportWords.TooManyNames
        : _around.Routes.Admit(series) ? null
        : ImportWords.TooManyQuantities;

    private void Refuse(ImportRefusal refusal)
    {
        _tally.Refuse(refusal);
        _report.Add(refusal);
    }

    private async Task StoreBatchAsync()
    {
        await LandAsync();
        _halt.ThrowIfCancellationRequested();
        ImportOutcome mark = new(
            "running", "", _lines.Position, _lines.Line, _tally.Taken, _tally.Refused, _tally.Earliest, _tally.Latest, _tally.Reasons, _tally.First, [], _report.Length);
        Reading[] readings = _job.Dry ? [] : [.. _batch];
        if (readings.Length > 0)
        {
            await UntilRoomAsync();
        }

        _batch.Clear();
        _storing = (readings.Length > 0 ? _around.Store.StoreAsync(readings, CancellationToken.None) : Task.CompletedTask, readings, mark);
        _batches++;
    }

    // What was on its way is on the disk: only now it is done.
    private async Task LandAsync()
    {
        if (_storing is not { } storing)
        {
            return;
        }

        _storing = null;
        await storing.Done;
        _around.Listeners.ObserveImported(storing.Readings);
        _job.Now = storing.Mark;
        Instant now = _around.Clock.Steady;
        if (now - _keptAt >= KeepEvery || _batches % KeepEveryBatches == 0)
        {
            _keptAt = now;
            _report.Flush();
            await _keep(Outcome("running", ""));
        }
    }

    // Live readings and alarms go first: while the disk is in trouble or nearly full, this waits.
    private async Task UntilRoomAsync()
    {
        for (bool told = false; _around.State.State.NeedsAttention || (_batches % LookAtRoomEveryBatches == 0 && !_around.Files.HasRoom); told = true)
        {
            if (!told)
            {
                _job.Now = _job.Now with { Words = Waits };
                await _keep(Outcome("running", Waits));
            }

            await Task.Delay(Pause, _around.Clock.Provider, _halt);
        }
    }
}
