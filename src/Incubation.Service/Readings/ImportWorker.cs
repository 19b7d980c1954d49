using Incubation.Core.Readings;
using Incubation.Service.Hosting;

namespace Incubation.Service.Readings;

/// <summary>Reads files of readings, one at a time, and writes down how far each is. What ran when the service ended waits for somebody to go on with it.</summary>
internal sealed class ImportWorker(WorkerSupport support, ImportDesk desk, ImportRows rows, ImportSurroundings around)
    : SupervisedWorker(support, "imports")
{
    private const string Restarted = "The service was stopped meanwhile. Everything up to here is stored: go on with it.";

    private static readonly TimeSpan TidyEvery = TimeSpan.FromHours(6);

    protected override async Task RunAsync(CancellationToken stop)
    {
        await rows.InterruptedAsync(Restarted, stop);
        while (true)
        {
            Tidy();
            Progress();
            if (await NextAsync(stop) is { } job)
            {
                await RunAsync(job, stop);
            }
        }
    }

    // The next file, or null when it is time to tidy.
    private async Task<ImportJob?> NextAsync(CancellationToken stop)
    {
        using CancellationTokenSource time = new(TidyEvery, Time);
        using CancellationTokenSource either = CancellationTokenSource.CreateLinkedTokenSource(time.Token, stop);
        try
        {
            return await desk.NextAsync(either.Token);
        }
        catch (OperationCanceledException) when (!stop.IsCancellationRequested)
        {
            return null;
        }
    }

    private async Task RunAsync(ImportJob job, CancellationToken stop)
    {
        ImportOutcome outcome = job.Now;
        try
        {
            outcome = await ReadAsync(job, stop);
            Log.LogInformation("Import {Id} {Kind}: {State} after {Lines} lines, {Taken} readings taken and {Refused} refused",
                job.Id, job.Dry ? "as a trial" : "in earnest", outcome.State, outcome.Lines, outcome.Taken, outcome.Refused);
        }
#pragma warning disable CA1031 // Whatever was wrong with one file, the next can be read.
        catch (Exception error)
#pragma warning restore CA1031
        {
            Log.LogError(error, "Import {Id} failed", job.Id);
            outcome = job.Now with { State = "failed", Words = $"It failed: {error.Message} Everything up to here is stored; it can be gone on with." };
        }

        await KeepAsync(job, outcome);
        if (outcome.State == "done" && !job.Dry)
        {
            around.Files.Delete(job.Id, reports: false);
        }

        desk.Ended(job);
    }

    private async Task<ImportOutcome> ReadAsync(ImportJob job, CancellationToken stop)
    {
        using CancellationTokenSource halt = CancellationTokenSource.CreateLinkedTokenSource(job.Halt, stop);
        if (!job.Dry && await DigestAsync(job, halt.Token) is { } other)
        {
            return other;
        }

        using ImportRun run = new(job, around, outcome => KeepAsync(job, outcome), halt.Token);
        try
        {
            await run.ReadAsync();
            return run.Outcome("done", "");
        }
        catch (OperationCanceledException)
        {
            return run.Outcome("stopped", stop.IsCancellationRequested ? Restarted : "");
        }
        catch (StoreUnavailableException trouble)
        {
            return run.Outcome("stopped", trouble.Message);
        }
    }

    // A disk may lose what it was given, and a run must go on with the very file that it began with.
    private async Task<ImportOutcome?> DigestAsync(ImportJob job, CancellationToken halt)
    {
        try
        {
            return await around.Files.DigestAsync(job.Id, halt) == job.Digest
                ? null
                : job.Now with { State = "failed", Words = "The file on the disk is not the one that was sent. Check the disk, then send the file again." };
        }
        catch (OperationCanceledException)
        {
            return job.Now with { State = "stopped" };
        }
    }

    private async Task KeepAsync(ImportJob job, ImportOutcome outcome)
    {
        Progress();
        try
        {
            await rows.ProgressAsync(job.Id, job.Dry, outcome, outcome.State == "done" ? around.Clock.Wall : null, CancellationToken.None);
        }
#pragma warning disable CA1031 // Not written down, a little is done again later, which changes nothing.
        catch (Exception error)
#pragma warning restore CA1031
        {
            Log.LogError(error, "How far import {Id} is could not be written to the records", job.Id);
        }
    }

    private void Tidy()
    {
        try
        {
            if (around.Clock.Trusted)
            {
                around.Files.Tidy(around.Clock.Wall);
            }
        }
        catch (Exception error) when (error is IOException or UnauthorizedAccessException)
        {
            Log.LogWarning(error, "Old files of imports could not be deleted");
        }
    }
}
