using System.Collections.Frozen;
using Incubation.Service.Live;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;

namespace Incubation.Service.Clutches;

/// <summary>
/// The clutches as they stand, and the one door through which they change: one change at a time, and a new page after each.
/// Reading never touches the disk.
/// </summary>
internal sealed class ClutchBook(IDbContextFactory<RecordsContext> records, ILiveFeed feed) : IDisposable
{
    private readonly SemaphoreSlim _oneChange = new(1, 1);
    private volatile ClutchBookPage _current = ClutchBookPage.Empty;

    /// <summary>Everything at this moment.</summary>
    public ClutchBookPage Current => _current;

    /// <summary>The key of each clutch that changed.</summary>
    public event Action<string>? Changed;

    /// <summary>The clutch of that key, or null.</summary>
    public BookedClutch? Find(string key) => _current.Clutches.GetValueOrDefault(key);

    /// <summary>Reads all records; called before anyone asks, and after rows were written past the book.</summary>
    public async Task LoadAsync(CancellationToken cancellationToken)
    {
        await _oneChange.WaitAsync(cancellationToken);
        try
        {
            await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
            IReadOnlyList<BookedClutch> clutches = await ClutchRows.ReadAsync(context, null, cancellationToken);
            _current = new ClutchBookPage(
                clutches.ToFrozenDictionary(c => c.Key, StringComparer.Ordinal), await TubRows.ReadAsync(context, cancellationToken));
        }
        finally
        {
            _oneChange.Release();
        }
    }

    /// <summary>
    /// Makes one change: <paramref name="change"/> checks against <see cref="Current"/> and edits; what it left in the context is
    /// saved whole, and what it touched is read again.
    /// </summary>
    /// <param name="change">Checks and edits; leaves the context unchanged to refuse.</param>
    /// <param name="cancellationToken">Gives up before the save.</param>
    public async Task<T> ChangeAsync<T>(Func<RecordsContext, CancellationToken, Task<T>> change, CancellationToken cancellationToken)
    {
        T result;
        Touched touched;
        await _oneChange.WaitAsync(cancellationToken);
        try
        {
            await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
            result = await change(context, cancellationToken);
            touched = Touched.By(context.ChangeTracker.Entries(), _current);
            if (await context.SaveChangesAsync(cancellationToken) == 0)
            {
                return result;
            }

            // What is saved must be seen, even by a caller who has hung up by now.
            touched = touched with { Keys = await ReadAgainAsync(context, touched, CancellationToken.None) };
        }
        finally
        {
            _oneChange.Release();
        }

        foreach (string key in touched.Keys)
        {
            Changed?.Invoke(key);
        }

        feed.Publish(touched.Arrangement ? "facility" : "clutches", new { clutches = touched.Keys });
        return result;
    }

    public void Dispose() => _oneChange.Dispose();

    private async Task<IReadOnlyList<string>> ReadAgainAsync(RecordsContext context, Touched touched, CancellationToken cancellationToken)
    {
        context.ChangeTracker.Clear();
        IReadOnlyList<BookedClutch> clutches = await ClutchRows.ReadAsync(context, touched.Clutches, cancellationToken);
        Dictionary<string, BookedClutch> all = new(_current.Clutches, StringComparer.Ordinal);
        foreach (BookedClutch clutch in clutches)
        {
            all[clutch.Key] = clutch;
        }

        _current = new ClutchBookPage(
            all.ToFrozenDictionary(StringComparer.Ordinal),
            touched.Arrangement ? await TubRows.ReadAsync(context, cancellationToken) : _current.Tubs);
        return [.. clutches.Select(clutch => clutch.Key)];
    }

    /// <param name="Clutches">Ids of the clutches with an edited row.</param>
    /// <param name="Arrangement">Whether clutches, tubs or their places changed, not only what was seen.</param>
    /// <param name="Keys">Keys of the clutches, once read.</param>
    private sealed record Touched(IReadOnlySet<Guid> Clutches, bool Arrangement, IReadOnlyList<string> Keys)
    {
        public static Touched By(IEnumerable<EntityEntry> entries, ClutchBookPage page)
        {
            Dictionary<Guid, Guid> clutchOf = page.Clutches.Values.SelectMany(c => c.Eggs.Select(e => (Egg: e.Id, Clutch: c.Id)))
                .ToDictionary(pair => pair.Egg, pair => pair.Clutch);
            object[] edited = [.. entries.Where(e => e.State is not EntityState.Unchanged and not EntityState.Detached).Select(e => e.Entity)];
            return new Touched(
                edited.Select(row => row switch
                {
                    ClutchRecord clutch => clutch.Id,
                    EggRecord egg => egg.Clutch,
                    ClutchPlacementRecord place => place.Clutch,
                    CandlingRecord look => clutchOf[look.Egg],
                    OutcomeRecord outcome => clutchOf[outcome.Egg],
                    PairingRecord pairing => pairing.Clutch,
                    _ => Guid.Empty,
                }).Where(id => id != Guid.Empty).ToHashSet(),
                edited.Any(row => row is ClutchRecord or EggRecord or TubRecord or ClutchPlacementRecord or TubPlacementRecord),
                []);
        }
    }
}
