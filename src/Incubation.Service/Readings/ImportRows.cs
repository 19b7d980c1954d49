using System.Text.Json;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Service.Http;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>Imports on record: plan and progress of each as JSON in its row, changed in one statement with the counts.</summary>
internal sealed class ImportRows(IDbContextFactory<RecordsContext> records)
{
    private static readonly JsonSerializerOptions Json = Options();

    public static ImportPlan PlanOf(ImportRecord record) => JsonSerializer.Deserialize<ImportPlan>(record.Columns, Json)!;

    public static ImportProgress ProgressOf(ImportRecord record) => JsonSerializer.Deserialize<ImportProgress>(record.Report, Json)!;

    public async Task AddAsync(ImportRecord record, ImportPlan plan, CancellationToken stop)
    {
        record.Columns = JsonSerializer.Serialize(plan, Json);
        record.Report = JsonSerializer.Serialize(new ImportProgress(false, null, null), Json);
        await using RecordsContext context = await records.CreateDbContextAsync(stop);
        context.Add(record);
        await context.SaveChangesAsync(stop);
    }

    public async Task<ImportRecord?> FindAsync(Guid id, CancellationToken stop)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(stop);
        return await context.Set<ImportRecord>().AsNoTracking().FirstOrDefaultAsync(record => record.Id == id, stop);
    }

    public async Task<IReadOnlyList<ImportRecord>> NewestAsync(CancellationToken stop)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(stop);
        return await context.Set<ImportRecord>().AsNoTracking().OrderByDescending(record => record.StartedAt).Take(Limits.ImportsListed).ToListAsync(stop);
    }

    /// <summary>When the same file was brought in to its end, or null.</summary>
    public async Task<Instant?> DoneBeforeAsync(ImportRecord record, CancellationToken stop)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(stop);
        return (await context.Set<ImportRecord>().AsNoTracking().Where(other => other.Digest == record.Digest && other.Id != record.Id && other.State == "done")
            .OrderByDescending(other => other.EndedAt).FirstOrDefaultAsync(stop))?.EndedAt;
    }

    /// <summary>Another plan: what came of a trial with the one before says nothing any more.</summary>
    public Task PlanAsync(Guid id, ImportPlan plan, CancellationToken stop) => ChangeAsync(id, record =>
    {
        record.Columns = JsonSerializer.Serialize(plan, Json);
        record.Report = JsonSerializer.Serialize(ProgressOf(record) with { Confirmed = true, DryRun = null }, Json);
    }, stop);

    /// <summary>What came of a trial or a run by now.</summary>
    public Task ProgressAsync(Guid id, bool dry, ImportOutcome outcome, Instant? endedAt, CancellationToken stop) => ChangeAsync(id, record =>
    {
        ImportProgress progress = ProgressOf(record);
        record.Report = JsonSerializer.Serialize(dry ? progress with { DryRun = outcome } : progress with { Run = outcome }, Json);
        if (!dry)
        {
            (record.State, record.EndedAt) = (outcome.State, endedAt);
            (record.DoneBytes, record.DoneLines, record.Taken, record.Refused) = (outcome.DoneBytes, outcome.Lines, outcome.Taken, outcome.Refused);
        }
    }, stop);

    /// <summary>What ran when the service ended did not end itself.</summary>
    public async Task InterruptedAsync(string words, CancellationToken stop)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(stop);
        foreach (ImportRecord record in await context.Set<ImportRecord>().Where(record => record.State == "running").ToListAsync(stop))
        {
            ImportProgress progress = ProgressOf(record);
            record.State = "stopped";
            record.Report = JsonSerializer.Serialize(progress with { Run = progress.Run is { } run ? run with { State = "stopped", Words = words } : null }, Json);
        }

        await context.SaveChangesAsync(stop);
    }

    public async Task RemoveAsync(Guid id, CancellationToken stop)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(stop);
        await context.Set<ImportRecord>().Where(record => record.Id == id).ExecuteDeleteAsync(stop);
    }

    private async Task ChangeAsync(Guid id, Action<ImportRecord> change, CancellationToken stop)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(stop);
        if (await context.Set<ImportRecord>().FirstOrDefaultAsync(record => record.Id == id, stop) is { } record)
        {
            change(record);
            await context.SaveChangesAsync(stop);
        }
    }

    private static JsonSerializerOptions Options()
    {
        JsonSerializerOptions options = new(JsonSerializerDefaults.Web);
        HttpRegistration.Configure(options);
        return options;
    }
}
