using Incubation.Core.Clutches;
using Incubation.Service.Facility;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Development;

/// <summary>Where every probe ever was and which bands ever held.</summary>
/// <param name="Probes">Stays of probes by incubator, each ended by the probe's next; their tub only where it is on record.</param>
/// <param name="Bands">Bands by incubator and quantity, in the order in which they held.</param>
internal sealed record PlacementPage(
    ILookup<string, ProbeStay> Probes, ILookup<(string Incubator, string Quantity), BandRecord> Bands);

/// <summary>Keeps that page in memory until the facility changes: it is needed for every line of the clutches list.</summary>
internal sealed class PlacementHistory : IDisposable
{
    private readonly IDbContextFactory<RecordsContext> _records;
    private readonly IFacility _facility;
    private volatile PlacementPage? _page;
    private int _changes;

    public PlacementHistory(IDbContextFactory<RecordsContext> records, IFacility facility)
    {
        (_records, _facility) = (records, facility);
        facility.Changed += Forget;
    }

    public async ValueTask<PlacementPage> ReadAsync(CancellationToken cancellationToken)
    {
        if (_page is { } known)
        {
            return known;
        }

        int changes = Volatile.Read(ref _changes);
        await using RecordsContext context = await _records.CreateDbContextAsync(cancellationToken);
        List<PlacementRecord> probes = await context.Placements.AsNoTracking().ToListAsync(cancellationToken);
        List<BandRecord> bands = await context.Bands.AsNoTracking().OrderBy(b => b.From).ToListAsync(cancellationToken);
        PlacementPage page = new(
            probes.GroupBy(p => p.Probe).SelectMany(Chain).ToLookup(stay => stay.Incubator),
            bands.ToLookup(b => (b.Incubator, b.Quantity)));
        if (changes == Volatile.Read(ref _changes))
        {
            _page = page;
        }

        return page;
    }

    public void Dispose() => _facility.Changed -= Forget;

    private void Forget(FacilitySnapshot now)
    {
        Interlocked.Increment(ref _changes);
        _page = null;
    }

    // A probe is in one place at a time: a later stay ends the one before it, whatever end that was given.
    private static IEnumerable<ProbeStay> Chain(IEnumerable<PlacementRecord> entered)
    {
        PlacementRecord[] stays = [.. entered.OrderBy(p => p.From).ThenBy(p => p.EnteredAt)];
        for (int i = 0; i < stays.Length; i++)
        {
            Instant? next = i + 1 < stays.Length ? stays[i + 1].From : null;
            Instant? until = stays[i].Until is { } end && !(next < end) ? end : next;
            if (until is null || until > stays[i].From)
            {
                yield return new ProbeStay(stays[i].Probe, stays[i].Incubator, stays[i].Tub, stays[i].Where, stays[i].From, until);
            }
        }
    }
}
