using System.Collections.Frozen;
using Incubation.Core.Clutches;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;

namespace Incubation.Service.Clutches;

/// <summary>Reads tubs and their stays from the records.</summary>
internal static class TubRows
{
    public static async Task<FrozenDictionary<string, BookedTub>> ReadAsync(RecordsContext context, CancellationToken cancellationToken)
    {
        List<TubRecord> tubs = await context.Tubs.AsNoTracking().ToListAsync(cancellationToken);
        List<TubPlacementRecord> stays = await context.TubPlacements.AsNoTracking().ToListAsync(cancellationToken);
        ILookup<string, TubPlacementRecord> of = stays.ToLookup(s => s.Tub, StringComparer.Ordinal);
        return tubs.ToFrozenDictionary(
            t => t.Key,
            t => new BookedTub(
                new Tub(t.Key, t.Name, t.Substrate, t.SubstrateGrams, t.WaterGrams),
                [.. of[t.Key].OrderBy(s => s.EnteredAt).ThenBy(s => s.From).ThenBy(s => s.Id)
                    .Select(s => new IncubatorStay(s.Tub, s.Incubator, s.Shelf ?? "", s.From, s.Until))]),
            StringComparer.Ordinal);
    }
}
