using Incubation.Core.Tint;
using Incubation.Service.Clutches;
using Incubation.Service.Hosting;
using Incubation.Service.Live;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;

namespace Incubation.Service.Tint;

/// <summary>The keeper's terms for tints, in memory; begun with plain trade words where there are none.</summary>
internal sealed class TintShelf(IDbContextFactory<RecordsContext> records, ILiveFeed feed, ILogger<TintShelf> log)
    : ITintWords, IStartupStep, IDisposable
{
    /// <summary>More words than fit on a phone's screen are no list any more.</summary>
    public const int MostTerms = 40;

    private readonly SemaphoreSlim _oneChange = new(1, 1);
    private volatile IReadOnlyList<TintTerm> _terms = TintTerms.Defaults;

    public IReadOnlyList<TintTerm> Terms => _terms;

    public StartupStage Stage => StartupStage.Facility;

    public async Task RunAsync(CancellationToken cancellationToken)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        if (!await context.TintTerms.AnyAsync(cancellationToken))
        {
            context.TintTerms.AddRange(TintTerms.Defaults.Select((term, i) => new TintTermRecord
            {
                Key = term.Key,
                Word = term.Word,
                Meaning = term.Meaning,
                Colour = term.Colour,
                Position = i,
            }));
            try
            {
                await context.SaveChangesAsync(cancellationToken);
            }
            catch (DbUpdateException error)
            {
                // Words can wait for room on the disk; the alarms that start after this can't.
                log.LogError(error, "The first words for tints could not be written; they are used all the same");
                return;
            }
        }

        _terms = await ReadAsync(context, cancellationToken);
    }

    /// <summary>Changes a term or adds one; false when there are as many as can be.</summary>
    public async Task<bool> PutAsync(TintTerm term, CancellationToken cancellationToken)
    {
        await _oneChange.WaitAsync(cancellationToken);
        try
        {
            await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
            List<TintTermRecord> all = await context.TintTerms.ToListAsync(cancellationToken);
            TintTermRecord? record = all.FirstOrDefault(r => r.Key == term.Key);
            if (record is null)
            {
                if (all.Count >= MostTerms)
                {
                    return false;
                }

                record = new TintTermRecord
                {
                    Key = term.Key,
                    Word = "",
                    Meaning = "",
                    Colour = "",
                    Position = all.Count == 0 ? 0 : all.Max(r => r.Position) + 1,
                };
                context.TintTerms.Add(record);
            }

            (record.Word, record.Meaning, record.Colour) = (term.Word, term.Meaning, term.Colour);
            await context.SaveChangesAsync(cancellationToken);
            _terms = await ReadAsync(context, CancellationToken.None);
        }
        finally
        {
            _oneChange.Release();
        }

        feed.Publish("clutches", new { tints = true });
        return true;
    }

    public void Dispose() => _oneChange.Dispose();

    private static async Task<IReadOnlyList<TintTerm>> ReadAsync(RecordsContext context, CancellationToken cancellationToken)
        => await context.TintTerms.AsNoTracking().OrderBy(r => r.Position).ThenBy(r => r.Key)
            .Select(r => new TintTerm(r.Key, r.Word, r.Meaning, r.Colour)).ToListAsync(cancellationToken);
}
