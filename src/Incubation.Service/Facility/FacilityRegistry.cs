using System.Collections.Frozen;
using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Service.Live;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Facility;

/// <summary>
/// The facility as it stands, and the one door through which it changes: one change at a time, and a new snapshot after each.
/// </summary>
internal sealed class FacilityRegistry(IDbContextFactory<RecordsContext> records, ILiveFeed feed) : IFacility, IDisposable
{
    private readonly SemaphoreSlim _oneChange = new(1, 1);
    private volatile FacilitySnapshot _current = FacilitySnapshot.Empty;

    public FacilitySnapshot Current => _current;

    public event Action<FacilitySnapshot>? Changed;

    /// <summary>Reads the records; called once before the first reading may arrive.</summary>
    public async Task LoadAsync(CancellationToken cancellationToken)
    {
        await _oneChange.WaitAsync(cancellationToken);
        try
        {
            await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
            _current = await ReadAsync(context, cancellationToken);
        }
        finally
        {
            _oneChange.Release();
        }

        Changed?.Invoke(_current);
    }

    /// <summary>
    /// Makes one change: <paramref name="change"/> checks and edits, what it left in the context is saved whole, and everyone
    /// sees the new snapshot.
    /// </summary>
    /// <param name="change">Checks and edits; leaves the context unchanged to refuse.</param>
    /// <param name="saved">Runs after the save and before anyone sees the new snapshot, or null.</param>
    /// <param name="cancellationToken">Gives up before the save.</param>
    public async Task<T> ChangeAsync<T>(
        Func<RecordsContext, CancellationToken, Task<T>> change, Action? saved, CancellationToken cancellationToken)
    {
        T result;
        await _oneChange.WaitAsync(cancellationToken);
        try
        {
            await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
            result = await change(context, cancellationToken);
            if (await context.SaveChangesAsync(cancellationToken) == 0)
            {
                return result;
            }

            saved?.Invoke();
            // What is saved must be seen, even by a caller who has hung up by now.
            _current = await ReadAsync(context, CancellationToken.None);
        }
        finally
        {
            _oneChange.Release();
        }

        Changed?.Invoke(_current);
        feed.Publish("facility", new { });
        return result;
    }

    public void Dispose() => _oneChange.Dispose();

    private static async Task<FacilitySnapshot> ReadAsync(RecordsContext context, CancellationToken cancellationToken)
    {
        List<IncubatorRecord> incubators = await context.Incubators.AsNoTracking()
            .Where(i => i.RetiredAt == null).ToListAsync(cancellationToken);
        List<PlacementRecord> placements = await context.Placements.AsNoTracking()
            .Where(p => p.Until == null).OrderBy(p => p.From).ToListAsync(cancellationToken);
        List<BandRecord> bands = await context.Bands.AsNoTracking().OrderBy(b => b.From).ToListAsync(cancellationToken);

        HashSet<string> inUse = [.. incubators.Select(i => i.Key)];
        Dictionary<string, PlacedProbe> placed = [];
        foreach (PlacementRecord p in placements.Where(p => inUse.Contains(p.Incubator)))
        {
            placed[p.Probe] = new PlacedProbe(p.Probe, p.Incubator, p.Where, p.From, p.Tub);
        }

        Dictionary<(string, Quantity), Band> newest = [];
        foreach (BandRecord b in bands.Where(b => inUse.Contains(b.Incubator)))
        {
            newest[(b.Incubator, new Quantity(b.Quantity))] = ToBand(b);
        }

        return new FacilitySnapshot(
            [.. incubators.OrderBy(i => i.Position).ThenBy(i => i.Name, StringComparer.OrdinalIgnoreCase)
                .Select(i => new IncubatorPlace(i.Key, i.Name, i.Position))],
            placed.ToFrozenDictionary(), newest.ToFrozenDictionary());
    }

    public static Band ToBand(BandRecord b) => new(
        b.Incubator, new Quantity(b.Quantity), b.DangerLow, b.WarningLow, b.WarningHigh, b.DangerHigh, b.Deadband,
        Duration.FromSeconds(b.WarningOnDelaySeconds), Duration.FromSeconds(b.DangerOnDelaySeconds),
        Duration.FromSeconds(b.OffDelaySeconds), Duration.FromSeconds(b.SilentAfterSeconds));
}
