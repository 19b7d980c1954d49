using System.Collections.Immutable;
using Incubation.Core.Alarms;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Calling;

/// <summary>A step of the call-out order with how it is reached.</summary>
internal sealed record OrderedStep(CallStep Step, string Channel, string Address, string? Secret, bool Enabled);

/// <summary>The call-out order in memory, so that calling needs no disk.</summary>
internal sealed class CallOrder(IDbContextFactory<RecordsContext> records) : IDisposable
{
    private readonly SemaphoreSlim _oneAtATime = new(1);
    private ImmutableArray<OrderedStep> _steps = [];

    public ImmutableArray<OrderedStep> Steps => _steps;

    public event Action? Changed;

    public async Task LoadAsync(CancellationToken cancellationToken)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        List<CallStepRecord> rows = await context.CallSteps.AsNoTracking().OrderBy(s => s.Position).ToListAsync(cancellationToken);
        _steps = [.. rows.Select(Of)];
        Changed?.Invoke();
    }

    public async Task ReplaceAsync(IReadOnlyList<CallStepRecord> rows, CancellationToken cancellationToken)
    {
        await _oneAtATime.WaitAsync(cancellationToken);
        try
        {
            await WriteAsync(rows, cancellationToken);
            _steps = [.. rows.OrderBy(s => s.Position).Select(Of)];
        }
        finally
        {
            _oneAtATime.Release();
        }

        Changed?.Invoke();
    }

    public void Dispose() => _oneAtATime.Dispose();

    private async Task WriteAsync(IReadOnlyList<CallStepRecord> rows, CancellationToken cancellationToken)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        context.CallSteps.RemoveRange(await context.CallSteps.ToListAsync(cancellationToken));
        await using var transaction = await context.Database.BeginTransactionAsync(cancellationToken);
        await context.SaveChangesAsync(cancellationToken);
        context.CallSteps.AddRange(rows);
        await context.SaveChangesAsync(cancellationToken);
        await transaction.CommitAsync(cancellationToken);
    }

    private static OrderedStep Of(CallStepRecord row) => new(
        new CallStep(row.Id, row.Who, Duration.FromSeconds(row.AfterSeconds), Duration.FromSeconds(row.RepeatSeconds)),
        row.Channel, row.Address, row.Secret, row.Enabled);
}
