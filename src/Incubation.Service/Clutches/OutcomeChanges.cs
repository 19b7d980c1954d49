using System.Globalization;
using Incubation.Core;
using Incubation.Core.Clutches;
using Incubation.Core.Genetics;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Clutches;

/// <summary>Takes outcomes: append-only, under an id of the sender's; a correction supersedes and both stay.</summary>
internal sealed class OutcomeChanges(ClutchBook book, ClutchCalendar calendar)
{
    private static readonly Duration Ahead = Duration.FromMinutes(5);

    public Task<Appended> PutAsync(string key, Guid id, OutcomeRequest request, string by, CancellationToken cancellationToken)
        => book.ChangeAsync(
            async (context, token) =>
            {
                var form = new EntryForm();
                if (book.Find(key) is not { } clutch)
                {
                    return new Appended(Appending.NoClutch, form);
                }

                BookedEgg? egg = request.Egg is { } number ? clutch.Egg(number) : null;
                OutcomeRecord row = Read(form, clutch, egg, id, request, by);
                if (form.Refused)
                {
                    return new Appended(Appending.Refused, form);
                }

                if (await context.Outcomes.AsNoTracking().FirstOrDefaultAsync(o => o.Id == id, token) is { } there)
                {
                    return new Appended(SaysTheSame(there, row) ? Appending.AlreadyThere : Appending.IdTaken, form);
                }

                if (row.Trait is not null && !await context.Traits.AnyAsync(t => t.Key == row.Trait, token))
                {
                    form.Refuse("trait", "The key of a trait on record: enter the trait first.");
                }

                CheckCorrection(form, clutch, egg!, id, request.Supersedes,
                    await context.Outcomes.AsNoTracking().FirstOrDefaultAsync(o => o.Id == request.Supersedes, token));
                if (form.Refused)
                {
                    return new Appended(Appending.Refused, form);
                }

                context.Outcomes.Add(row);
                return new Appended(Appending.Added, form);
            },
            cancellationToken);

    private OutcomeRecord Read(EntryForm form, BookedClutch clutch, BookedEgg? egg, Guid id, OutcomeRequest request, string by)
    {
        if (id == Guid.Empty)
        {
            form.Refuse("id", "An id of its own for each outcome, not only zeros.");
        }

        if (egg is null)
        {
            form.Refuse("egg", request.Egg is { } number
                ? string.Create(CultureInfo.InvariantCulture, $"There is no egg {number} in this clutch: add it first, or check the number.")
                : "The number of the egg.");
        }

        OutcomeKind? kind = OutcomeWords.KindOf(request.Kind);
        if (kind is null)
        {
            form.Refuse("kind", $"One of {string.Join(", ", Enum.GetValues<OutcomeKind>().Select(OutcomeWords.Word))}.");
        }

        Instant at = form.TimeOf("at", request.At);
        if (request.TraitSeen is not null && GeneticsWords.SeenOf(request.TraitSeen) is null)
        {
            form.Refuse("traitSeen", $"One of {string.Join(", ", Enum.GetValues<TraitSeen>().Select(GeneticsWords.Word))}, or left out.");
        }
        else if (request.Trait is null != request.TraitSeen is null)
        {
            form.Refuse(request.Trait is null ? "trait" : "traitSeen", "A trait and what was seen of it go together: send both or neither.");
        }

        string? note = form.Note("note", request.Note);
        if (!form.Refused)
        {
            Say(form, clutch, egg!, kind!.Value, at, request.Supersedes);
        }

        return new OutcomeRecord
        {
            Id = id,
            Egg = egg?.Id ?? Guid.Empty,
            Kind = request.Kind ?? "",
            At = at,
            Trait = request.Trait,
            TraitSeen = request.TraitSeen,
            Note = note,
            Supersedes = request.Supersedes,
            By = by,
            EnteredAt = calendar.Now,
        };
    }

    // None of this refuses: a phone with a wrong clock must not lose what was seen.
    private void Say(EntryForm form, BookedClutch clutch, BookedEgg egg, OutcomeKind kind, Instant at, Guid? supersedes)
    {
        if (at > calendar.Now + Ahead)
        {
            form.Say("The time of this is still to come: check the clock of the phone. The entry is kept.");
        }
        else if (at < calendar.LaidFrom(clutch.Clutch.Laid))
        {
            form.Say("The time of this is before the eggs were laid: check the clock of the phone. The entry is kept.");
        }

        BookedOutcome? other = clutch.Outcomes.LastOrDefault(o => o.Outcome.Egg == egg.Place.Number && o.Stands
            && o.Outcome.Id != supersedes && o.Outcome.Kind != OutcomeKind.FirstPip && o.Outcome.Kind != kind);
        if (other is not null && kind != OutcomeKind.FirstPip)
        {
            form.Say(string.Create(CultureInfo.InvariantCulture,
                $"Egg {egg.Place.Number} is on record as {OutcomeWords.Word(other.Outcome.Kind)} too, by {other.Outcome.By}. Both are kept and the later one holds; correct the one that is wrong."));
        }
    }

    private static void CheckCorrection(
        EntryForm form, BookedClutch clutch, BookedEgg egg, Guid id, Guid? supersedes, OutcomeRecord? corrected)
    {
        BookedOutcome[] of = [.. clutch.Outcomes.Where(o => o.Outcome.Egg == egg.Place.Number)];
        if (of.Length >= Limits.OutcomesPerEgg)
        {
            form.Refuse("egg", string.Create(CultureInfo.InvariantCulture, $"Egg {egg.Place.Number} has {of.Length} outcomes already, which is as many as are kept."));
        }

        // A correction may arrive before what it corrects, so an unknown one is no fault.
        bool otherEgg = corrected is not null && corrected.Egg != egg.Id;
        bool waiting = clutch.Outcomes.Any(o => o.Outcome.Supersedes == id && o.Outcome.Egg != egg.Place.Number);
        bool circle = false;
        for (Guid? step = supersedes; step is { } at && !circle; step = of.FirstOrDefault(o => o.Outcome.Id == at)?.Outcome.Supersedes)
        {
            circle = at == id;
        }

        if (otherEgg || waiting || circle)
        {
            form.Refuse("supersedes", "The id of another outcome of the same egg; an outcome can't correct itself in a circle.");
        }
    }

    private static bool SaysTheSame(OutcomeRecord there, OutcomeRecord sent)
        => (there.Egg, there.Kind, there.At, there.Trait, there.TraitSeen, there.Note, there.Supersedes)
            == (sent.Egg, sent.Kind, sent.At, sent.Trait, sent.TraitSeen, sent.Note, sent.Supersedes);
}
