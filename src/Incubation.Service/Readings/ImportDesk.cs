using System.Threading.Channels;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Service.Probes;
using Incubation.Storage.Records;
using Microsoft.Extensions.Options;

namespace Incubation.Service.Readings;

/// <summary>What people do with files of readings. One is read at a time, by <see cref="ImportWorker"/>.</summary>
internal sealed class ImportDesk(ImportFiles files, ImportRows rows, ProbeRegister probes, ServiceClock clock, IOptions<IncubationOptions> options) : IDisposable
{
    private const string NotHere = "The file is not here any more. Send it again; what was stored of it is there and changes nothing.";

    private static readonly ImportOutcome Nothing = new("running", "", 0, 0, 0, 0, null, null, [], [], [], 0);

    private readonly Channel<ImportJob> _jobs = Channel.CreateBounded<ImportJob>(1);
    private readonly SemaphoreSlim _gate = new(1, 1);
    private volatile ImportJob? _job;

    /// <summary>What is being read, or null.</summary>
    public ImportJob? Job => _job;

    /// <summary>Waits for the next to be read.</summary>
    public ValueTask<ImportJob> NextAsync(CancellationToken stop) => _jobs.Reader.ReadAsync(stop);

    /// <summary>Takes a file and guesses how it is to be read.</summary>
    /// <exception cref="ImportRefusedException">It is not taken.</exception>
    public async Task<ImportView> TakeAsync(string fileName, Stream body, long? length, string by, CancellationToken stop)
    {
        if (clock.Trusted)
        {
            files.Tidy(clock.Wall);
        }

        if (files.Count >= Limits.ImportsWaiting)
        {
            throw new ImportRefusedException(StatusCodes.Status409Conflict, $"{Limits.ImportsWaiting} files lie ready already. Bring one in, or delete it.");
        }

        Guid id = Guid.NewGuid();
        ImportedFile file = await files.TakeAsync(id, body, length, stop);
        try
        {
            (byte[] head, bool whole) = files.Head(id);
            if (ImportText.Refusal(head) is { } refusal)
            {
                throw new ImportRefusedException(StatusCodes.Status415UnsupportedMediaType, refusal);
            }

            ImportGuessed guessed = ImportGuess.Of(head.AsSpan(ImportText.MarkLength(head)), whole, options.Value.Facility.Zone, IsKnown);
            ImportRecord record = new()
            {
                Id = id,
                FileName = fileName,
                Digest = file.Digest,
                Bytes = file.Bytes,
                State = "waiting",
                Columns = "",
                Report = "",
                By = by,
                StartedAt = clock.Wall,
            };
            await rows.AddAsync(record, guessed.Plan, stop);
            return await ViewAsync(record, null, stop);
        }
        catch
        {
            files.Delete(id, reports: true);
            throw;
        }
    }

    public async Task<IReadOnlyList<ImportLine>> ListAsync(CancellationToken stop)
    {
        // What runs is asked for before the rows: a job ends after its row says so.
        ImportJob? job = _job;
        return [.. (await rows.NewestAsync(stop)).Select(record =>
        {
            ImportOutcome? now = job is { Dry: false } && job.Id == record.Id ? job.Now : null;
            return new ImportLine(
                record.Id, record.FileName, job?.Id == record.Id ? "running" : record.State, record.Bytes, now?.DoneBytes ?? record.DoneBytes,
                now?.Taken ?? record.Taken, now?.Refused ?? record.Refused, record.By, record.StartedAt, record.EndedAt, files.IsHere(record.Id));
        })];
    }

    /// <summary>An import; with another separator as it would be guessed by that. Null when there is none.</summary>
    public async Task<ImportView?> ViewAsync(Guid id, CancellationToken stop, ImportSeparator? separator = null)
    {
        ImportJob? job = _job;
        return await rows.FindAsync(id, stop) is { } record ? await ViewAsync(record, job?.Id == id ? job : null, stop, separator) : null;
    }

    /// <summary>Says how a file is to be read. Null when there is no such import.</summary>
    /// <exception cref="ImportRefusedException">It is being read, or lines of it are stored already.</exception>
    public Task<ImportView?> PlanAsync(Guid id, ImportPlan plan, CancellationToken stop) => AloneAsync(id, async record =>
    {
        if (_job?.Id == id || record.DoneBytes > 0)
        {
            throw new ImportRefusedException(StatusCodes.Status409Conflict,
                "Lines of this file are stored by the columns as they are. To read it in another way, delete it here and send it again.");
        }

        await rows.PlanAsync(id, plan, stop);
    }, stop);

    /// <summary>Begins a trial or a run, or goes on with a run. Null when there is no such import.</summary>
    /// <exception cref="ImportRefusedException">It can't be, as things stand.</exception>
    public Task<ImportView?> BeginAsync(Guid id, bool dry, CancellationToken stop) => AloneAsync(id, async record =>
    {
        ImportProgress progress = ImportRows.ProgressOf(record);
        ImportPlan plan = ImportRows.PlanOf(record);
        string? why = _job is not null ? "A file is being read already. Wait for it, or stop it first."
            : record.State == "done" ? "It is done."
            : !files.IsHere(id) ? NotHere
            : !progress.Confirmed || ImportPlanCheck.Problems(plan).Count > 0 ? "Say first what the columns hold."
            : null;
        if (why is not null)
        {
            throw new ImportRefusedException(StatusCodes.Status409Conflict, why);
        }

        ImportOutcome from = !dry && progress.Run is { } run ? run with { State = "running", Words = "" } : Nothing;
        ImportJob job = new(id, plan, dry, record.Digest, from, clock.Steady);
        await rows.ProgressAsync(id, dry, from, null, stop);
        files.Touch(id, clock.Wall);
        _job = job;
        await _jobs.Writer.WriteAsync(job, CancellationToken.None);
    }, stop);

    /// <summary>Stops what is being read, and waits until that is written down. Null when there is no such import.</summary>
    public async Task<ImportView?> StopAsync(Guid id, CancellationToken stop)
    {
        if (_job is { } job && job.Id == id)
        {
            job.Stop();
            await job.Ended.Task.WaitAsync(stop);
        }

        return await ViewAsync(id, stop);
    }

    /// <summary>Deletes the file and its reports; what was stored stays. False when there is no such import.</summary>
    /// <exception cref="ImportRefusedException">It is being read.</exception>
    public async Task<bool> DeleteAsync(Guid id, CancellationToken stop) => await AloneAsync(id, async record =>
    {
        if (_job?.Id == id)
        {
            throw new ImportRefusedException(StatusCodes.Status409Conflict, "It is being read. Stop it first.");
        }

        files.Delete(id, reports: true);
        if (record.DoneBytes == 0)
        {
            await rows.RemoveAsync(id, stop);
        }
    }, stop, gone: true) is not null;

    /// <summary>A job has ended: the next may begin.</summary>
    public void Ended(ImportJob job)
    {
        _job = null;
        job.Ended.TrySetResult();
    }

    public void Dispose() => _gate.Dispose();

    private bool IsKnown(string key) => probes.Find(key) is not null;

    private async Task<ImportView?> AloneAsync(Guid id, Func<ImportRecord, Task> change, CancellationToken stop, bool gone = false)
    {
        await _gate.WaitAsync(stop);
        try
        {
            if (await rows.FindAsync(id, stop) is not { } record)
            {
                return null;
            }

            await change(record);
            return gone ? await ViewAsync(record, null, stop) : await ViewAsync(id, stop);
        }
        finally
        {
            _gate.Release();
        }
    }

    private async Task<ImportView> ViewAsync(ImportRecord record, ImportJob? job, CancellationToken stop, ImportSeparator? separator = null)
    {
        ImportPlan plan = ImportRows.PlanOf(record);
        ImportProgress progress = ImportRows.ProgressOf(record);
        bool here = files.IsHere(record.Id);
        ImportGuessed shown = new(plan, [], [], []);
        if (here)
        {
            (byte[] head, bool whole) = files.Head(record.Id);
            ReadOnlySpan<byte> text = head.AsSpan(ImportText.MarkLength(head));
            shown = progress.Confirmed && separator is null ? ImportGuess.By(plan, text, whole) : ImportGuess.Of(text, whole, plan.Zone, IsKnown, separator);
            plan = shown.Plan;
        }

        (double? speed, double? left) = Speed(job, record.Bytes);
        return new ImportView(
            record.Id, record.FileName, job is null ? record.State : "running", job is null ? null : job.Dry ? "dry run" : "run", record.Bytes, record.Digest, here,
            progress.Confirmed, plan, shown.Names, shown.Rows, shown.Questions, job is { Dry: true } ? job.Now : progress.DryRun,
            job is { Dry: false } ? job.Now : progress.Run, speed, left, await rows.DoneBeforeAsync(record, stop), record.By, record.StartedAt, record.EndedAt);
    }

    private (double? LinesPerSecond, double? SecondsLeft) Speed(ImportJob? job, long bytes)
    {
        double seconds = job is null ? 0 : (clock.Steady - job.StartedAt).TotalSeconds;
        if (job is null || seconds < 0.5 || job.Now.DoneBytes <= job.From.DoneBytes)
        {
            return (null, null);
        }

        double bytesPerSecond = (job.Now.DoneBytes - job.From.DoneBytes) / seconds;
        return (Math.Round((job.Now.Lines - job.From.Lines) / seconds), Math.Ceiling((bytes - job.Now.DoneBytes) / bytesPerSecond));
    }
}
