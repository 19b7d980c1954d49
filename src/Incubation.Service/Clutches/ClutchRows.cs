using System.Collections.Immutable;
using Incubation.Core.Candling;
using Incubation.Core.Clutches;
using Incubation.Core.Genetics;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;

namespace Incubation.Service.Clutches;

/// <summary>Reads clutches from the records, whole.</summary>
internal static class ClutchRows
{
    /// <param name="context">The records.</param>
    /// <param name="only">Ids to read, or null for all.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public static async Task<IReadOnlyList<BookedClutch>> ReadAsync(
        RecordsContext context, IReadOnlySet<Guid>? only, CancellationToken cancellationToken)
    {
        if (only is { Count: 0 })
        {
            return [];
        }

        Guid[] ids = [.. only ?? new HashSet<Guid>()];
        bool all = only is null;
        List<ClutchRecord> clutches = await context.Clutches.AsNoTracking()
            .Where(c => all || ids.Contains(c.Id)).ToListAsync(cancellationToken);
        List<EggRecord> eggs = await context.Eggs.AsNoTracking()
            .Where(e => all || ids.Contains(e.Clutch)).ToListAsync(cancellationToken);
        List<ClutchPlacementRecord> stays = await context.ClutchPlacements.AsNoTracking()
            .Where(p => all || ids.Contains(p.Clutch)).ToListAsync(cancellationToken);
        IQueryable<Guid> wanted = context.Eggs.Where(e => all || ids.Contains(e.Clutch)).Select(e => e.Id);
        List<CandlingRecord> looks = await context.Candlings.AsNoTracking()
            .Where(c => all || wanted.Contains(c.Egg)).ToListAsync(cancellationToken);
        List<OutcomeRecord> outcomes = await context.Outcomes.AsNoTracking()
            .Where(o => all || wanted.Contains(o.Egg)).ToListAsync(cancellationToken);

        ILookup<Guid, EggRecord> eggsOf = eggs.ToLookup(e => e.Clutch);
        ILookup<Guid, ClutchPlacementRecord> staysOf = stays.ToLookup(s => s.Clutch);
        ILookup<Guid, CandlingRecord> looksOf = looks.ToLookup(l => l.Egg);
        ILookup<Guid, OutcomeRecord> outcomesOf = outcomes.ToLookup(o => o.Egg);
        return [.. clutches.Select(c => Book(c, [.. eggsOf[c.Id]], staysOf[c.Id], looksOf, outcomesOf))];
    }

    private static BookedClutch Book(
        ClutchRecord row, EggRecord[] eggs, IEnumerable<ClutchPlacementRecord> stays, ILookup<Guid, CandlingRecord> looksOf,
        ILookup<Guid, OutcomeRecord> outcomesOf)
    {
        var booked = new List<BookedEgg>(eggs.Length);
        var looks = new List<BookedLook>();
        var outcomes = new List<BookedOutcome>();
        foreach (EggRecord egg in eggs.OrderBy(e => e.Number))
        {
            Dictionary<Guid, string?> words = looksOf[egg.Id].ToDictionary(l => l.Id, l => l.TintWord);
            // A log per egg: corrections never cross eggs, and deriving stays quick for a clutch with a long history.
            CandlingLog log = CandlingLog.Of(looksOf[egg.Id].OrderBy(l => l.EnteredAt).ThenBy(l => l.Id).Select(l => LookOf(l, egg.Number)));
            ImmutableArray<LoggedEntry> history = [.. log.History(egg.Number)];
            BookedOutcome[] of = Chained([.. outcomesOf[egg.Id]], egg.Number);
            DerivedStatus status = StatusRules.Derive(
                [.. history.Where(h => h.Stands).Select(h => h.Entry)], [.. of.Select(o => o.Outcome)]);
            booked.Add(new BookedEgg(
                egg.Id, new Egg(egg.Number, egg.X, egg.Y, egg.Clump), status, history,
                of.FirstOrDefault(o => status.RestsOn.Contains(o.Outcome.Id))));
            looks.AddRange(history.Select(h => new BookedLook(h.Entry, words[h.Entry.Id], h.SupersededBy)));
            outcomes.AddRange(of);
        }

        return new BookedClutch(
            row.Id,
            new Clutch(row.Key, row.Label, row.Species, row.Dam, row.Sire, new LayDate(row.LayDate, row.LayDateSlackDays), eggs.Length,
                row.FoundAt, row.FemaleCelsius, row.AssumedCelsius, row.SecondPerson, row.EnteredAt),
            row.Note, row.By, row.FinishedAt, [.. booked],
            [.. looks.OrderBy(l => l.Entry.At).ThenBy(l => l.Entry.EnteredAt).ThenBy(l => l.Entry.Id)],
            [.. outcomes.OrderBy(o => o.Outcome.At).ThenBy(o => o.EnteredAt).ThenBy(o => o.Outcome.Id)],
            [.. stays.OrderBy(s => s.EnteredAt).ThenBy(s => s.From).ThenBy(s => s.Id).Select(s => new TubStay(s.Tub, s.From, s.Until))]);
    }

    private static CandlingEntry LookOf(CandlingRecord row, int egg) => new(
        row.Id, egg, row.Tint, CandlingWords.VeinsOf(row.Veins), row.MovementSeen,
        [.. (row.Shell ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries)], CandlingWords.SlugLookOf(row.LooksLikeSlug),
        row.MassGrams, row.Note ?? "", row.By, row.At, row.EnteredAt, row.Supersedes);

    private static BookedOutcome[] Chained(OutcomeRecord[] rows, int egg)
    {
        ILookup<Guid, Guid> correctors = rows.Where(o => o.Supersedes is not null).ToLookup(o => o.Supersedes!.Value, o => o.Id);
        return
        [
            .. rows.Select(o => new BookedOutcome(
                new Outcome(o.Id, egg, OutcomeWords.KindOf(o.Kind) ?? OutcomeKind.FirstPip, o.At, o.By, o.Trait, GeneticsWords.SeenOf(o.TraitSeen),
                    o.Note ?? "", o.Supersedes),
                o.EnteredAt, [.. correctors[o.Id].Order()])),
        ];
    }
}
