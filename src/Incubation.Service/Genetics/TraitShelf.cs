using System.Collections.Immutable;
using Incubation.Core.Genetics;
using Incubation.Service.Clutches;
using Incubation.Service.Facility;
using Incubation.Service.Hosting;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;

namespace Incubation.Service.Genetics;

/// <summary>A trait with the tints said to go with carrying it.</summary>
internal sealed record KeptTrait(Trait Trait, ImmutableArray<string> CarrierTints);

/// <summary>All traits, and the pairing of each clutch as it was last entered.</summary>
internal sealed record TraitPage(IReadOnlyList<KeptTrait> Traits, ILookup<Guid, PairingRecord> Pairings)
{
    public KeptTrait? Find(string key) => Traits.FirstOrDefault(kept => kept.Trait.Key == key);
}

/// <summary>Traits and pairings in the records. Every change goes through the clutch book, so that everyone who looks is told.</summary>
internal sealed class TraitShelf(IDbContextFactory<RecordsContext> records, ClutchBook book, ServiceClock clock)
{
    /// <summary>More traits than one breeder follows; beyond it a new one is refused.</summary>
    public const int MostTraits = 200;

    public async Task<TraitPage> ReadAsync(CancellationToken cancellationToken)
    {
        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        List<TraitRecord> traits = await context.Traits.AsNoTracking().OrderBy(t => t.Name).ToListAsync(cancellationToken);
        List<PairingRecord> pairings = await context.Pairings.AsNoTracking().OrderBy(p => p.EnteredAt).ToListAsync(cancellationToken);
        return new TraitPage(
            [.. traits.Select(Kept)],
            // Of the same clutch and trait the newest holds; the ones before stay as evidence.
            pairings.GroupBy(p => (p.Clutch, p.Trait)).Select(group => group.Last()).ToLookup(p => p.Clutch));
    }

    /// <summary>A new trait; null when there are as many as can be.</summary>
    public Task<KeptTrait?> AddAsync(string name, Inheritance inheritance, IReadOnlyList<string> tints, string by, CancellationToken cancellationToken)
        => book.ChangeAsync<KeptTrait?>(
            async (context, token) =>
            {
                HashSet<string> taken = [.. await context.Traits.Select(t => t.Key).ToListAsync(token)];
                if (taken.Count >= MostTraits)
                {
                    return null;
                }

                TraitRecord record = new()
                {
                    Key = KeyFromName.Make(name, "trait", taken.Contains),
                    Name = name,
                    Inheritance = GeneticsWords.Word(inheritance),
                    CarrierTints = string.Join(',', tints),
                    By = by,
                    EnteredAt = clock.Wall,
                };
                context.Traits.Add(record);
                return Kept(record);
            },
            cancellationToken);

    /// <summary>Changes a trait; null when there is none of that key.</summary>
    public Task<KeptTrait?> ChangeAsync(
        string key, string name, Inheritance inheritance, IReadOnlyList<string> tints, string by, CancellationToken cancellationToken)
        => book.ChangeAsync<KeptTrait?>(
            async (context, token) =>
            {
                TraitRecord? record = await context.Traits.FindAsync([key], token);
                if (record is null)
                {
                    return null;
                }

                (record.Name, record.Inheritance, record.CarrierTints, record.By) =
                    (name, GeneticsWords.Word(inheritance), string.Join(',', tints), by);
                return Kept(record);
            },
            cancellationToken);

    /// <summary>Enters a pairing beside the ones before it; the same again changes nothing.</summary>
    public Task PairAsync(Guid clutch, string trait, int damCopies, int? sireCopies, string by, CancellationToken cancellationToken)
        => book.ChangeAsync(
            async (context, token) =>
            {
                PairingRecord? last = await context.Pairings.AsNoTracking().Where(p => p.Clutch == clutch && p.Trait == trait)
                    .OrderByDescending(p => p.EnteredAt).FirstOrDefaultAsync(token);
                if (last is not null && last.DamCopies == damCopies && last.SireCopies == sireCopies)
                {
                    return false;
                }

                // On a clock that stands still or went back the newest must still be the newest.
                NodaTime.Instant now = clock.Wall;
                context.Pairings.Add(new PairingRecord
                {
                    Id = Guid.NewGuid(),
                    Clutch = clutch,
                    Trait = trait,
                    DamCopies = damCopies,
                    SireCopies = sireCopies,
                    By = by,
                    EnteredAt = last is not null && now <= last.EnteredAt ? last.EnteredAt + NodaTime.Duration.FromMilliseconds(1) : now,
                });
                return true;
            },
            cancellationToken);

    private static KeptTrait Kept(TraitRecord record) => new(
        new Trait(record.Key, record.Name, GeneticsWords.InheritanceOf(record.Inheritance) ?? Inheritance.Recessive),
        [.. record.CarrierTints.Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)]);
}
