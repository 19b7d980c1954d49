using System.Collections.Immutable;
using System.Globalization;
using Incubation.Core;
using Incubation.Core.Candling;
using Incubation.Core.Tint;
using Incubation.Service.Clutches;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;

namespace Incubation.Service.Candling;

/// <summary>
/// Takes what was seen under the lamp: append-only, under an id of the phone's, so that a phone without signal may send late, twice
/// and in any order. Two people who look at the same egg, or correct the same entry, are both kept.
/// </summary>
internal sealed class CandlingDesk(ClutchBook book, ITintWords tints, ClutchCalendar calendar)
{
    public Task<Appended> PutAsync(string key, Guid id, CandlingRequest request, string by, CancellationToken cancellationToken)
        => book.ChangeAsync(
            async (context, token) =>
            {
                var form = new EntryForm();
                if (book.Find(key) is not { } clutch)
                {
                    return new Appended(Appending.NoClutch, form);
                }

                CandlingRecord? there = await context.Candlings.AsNoTracking().FirstOrDefaultAsync(c => c.Id == id, token);
                BookedLook? known = clutch.Candlings.FirstOrDefault(look => look.Entry.Id == id);
                // Who holds the phone may have changed since it was sent first; the one who looked is on record.
                CandlingEntry entry = Read(form, clutch, id, request, known?.Entry.By ?? by, known);
                if (form.Refused)
                {
                    return new Appended(Appending.Refused, form);
                }

                if (there is not null)
                {
                    return new Appended(known is not null && known.Entry.SaysTheSame(entry) ? Appending.AlreadyThere : Appending.IdTaken, form);
                }

                if (await CorrectsAnotherClutchAsync(context, clutch, entry, token)
                    || Append(clutch, entry) == AppendOutcome.CorrectsWrongly)
                {
                    form.Refuse("supersedes", "The id of another entry about the same egg; an entry can't correct itself in a circle.");
                    return new Appended(Appending.Refused, form);
                }

                context.Candlings.Add(Row(clutch, entry));
                return new Appended(Appending.Added, form);
            },
            cancellationToken);

    private static AppendOutcome Append(BookedClutch clutch, CandlingEntry entry)
        => CandlingLog.Of(clutch.Candlings
            // Corrections never cross eggs: only the egg's own entries, and those that wait for this one, bear on it.
            .Where(look => look.Entry.Egg == entry.Egg || look.Entry.Supersedes == entry.Id || look.Entry.Id == entry.Supersedes)
            .Select(look => look.Entry)).Append(entry).Outcome;

    private static async Task<bool> CorrectsAnotherClutchAsync(
        RecordsContext context, BookedClutch clutch, CandlingEntry entry, CancellationToken cancellationToken)
        => entry.Supersedes is { } corrected && !clutch.Candlings.Any(look => look.Entry.Id == corrected)
            && await context.Candlings.AnyAsync(c => c.Id == corrected, cancellationToken);

    private CandlingEntry Read(EntryForm form, BookedClutch clutch, Guid id, CandlingRequest request, string by, BookedLook? known)
    {
        if (id == Guid.Empty)
        {
            form.Refuse("id", "An id of its own for each entry, not only zeros.");
        }

        if (request.Egg is null)
        {
            form.Refuse("egg", "The number of the egg.");
        }

        // A term that was taken off the list since does not undo an entry that is sent again.
        IReadOnlyList<TintTerm> terms = tints.Terms;
        if (request.Tint is { } tint && terms.All(t => t.Key != tint) && known?.Entry.Tint != tint)
        {
            form.Refuse("tint", $"One of {string.Join(", ", terms.Select(t => t.Key))}, or left out.");
        }

        Veins? veins = CandlingWords.VeinsOf(request.Veins);
        if (request.Veins is not null && veins is null)
        {
            form.Refuse("veins", $"One of {string.Join(", ", Enum.GetValues<Veins>().Select(CandlingWords.Word))}, or left out.");
        }

        SlugLook? slug = CandlingWords.SlugLookOf(request.LooksLikeSlug);
        if (request.LooksLikeSlug is not null && slug is null)
        {
            form.Refuse("looksLikeSlug", $"One of {string.Join(", ", Enum.GetValues<SlugLook>().Select(CandlingWords.Word))}, or left out.");
        }

        ImmutableArray<string> shell = Shell(form, request.Shell);
        string note = form.Note("note", request.Note) ?? "";
        var entry = new CandlingEntry(
            id, request.Egg ?? 0, request.Tint, veins, request.MovementSeen, shell, slug, request.MassGrams, note, by,
            form.TimeOf("at", request.At), calendar.Now, request.Supersedes);
        if (!form.Refused)
        {
            form.Take(CandlingRules.Check(
                entry, [.. clutch.Eggs.Select(egg => egg.Place.Number)], calendar.LaidFrom(clutch.Clutch.Laid), calendar.Now));
            if (known is null && clutch.Candlings.Length >= Limits.CandlingsPerClutch)
            {
                form.Refuse("egg", string.Create(
                    CultureInfo.InvariantCulture, $"This clutch has {Limits.CandlingsPerClutch} entries, which is as many as are kept."));
            }
        }

        return entry;
    }

    private static ImmutableArray<string> Shell(EntryForm form, IReadOnlyList<string?>? sent)
    {
        string[] known = [.. CandlingWords.ShellTerms.Select(t => t.Key)];
        if (sent?.FirstOrDefault(term => !known.Contains(term)) is not null || sent?.Contains(null) == true)
        {
            form.Refuse("shell", $"Any of {string.Join(", ", known)}.");
            return [];
        }

        return [.. (sent ?? []).OfType<string>()];
    }

    private CandlingRecord Row(BookedClutch clutch, CandlingEntry entry) => new()
    {
        Id = entry.Id,
        Egg = clutch.Egg(entry.Egg)!.Id,
        Tint = entry.Tint,
        TintWord = entry.Tint is null ? null : tints.Terms.FirstOrDefault(t => t.Key == entry.Tint)?.Word,
        Veins = entry.Veins is { } veins ? CandlingWords.Word(veins) : null,
        MovementSeen = entry.MovementSeen,
        Shell = entry.Findings.IsEmpty ? null : string.Join(',', entry.Findings),
        LooksLikeSlug = entry.LooksLikeSlug is { } slug ? CandlingWords.Word(slug) : null,
        MassGrams = entry.MassGrams,
        Note = entry.Note.Length == 0 ? null : entry.Note,
        Supersedes = entry.Supersedes,
        At = entry.At,
        By = entry.By,
        EnteredAt = entry.EnteredAt,
    };
}
