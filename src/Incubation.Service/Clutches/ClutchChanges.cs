using Incubation.Core.Clutches;
using Incubation.Service.Facility;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Clutches;

/// <summary>What came of a change: the clutch, unless the form refused it or there is none.</summary>
internal sealed record ClutchChange(EntryForm Form, string? Key);

/// <summary>The changes a keeper makes to a clutch as a whole.</summary>
internal sealed class ClutchChanges(ClutchBook book, ClutchForm reader, TubChanges tubs, ClutchWhereabouts places, ClutchCalendar calendar)
{
    /// <summary>Enters a clutch with its eggs and, when it is said, its tub: all of it, or nothing.</summary>
    public Task<ClutchChange> AddAsync(ClutchRequest request, string by, CancellationToken cancellationToken)
        => book.ChangeAsync(
            (context, _) =>
            {
                var form = new EntryForm();
                ClutchBookPage page = book.Current;
                Instant now = calendar.Now;
                string label = string.IsNullOrWhiteSpace(request.Label) ? ClutchForm.NextLabel(page) : form.Name("label", request.Label) ?? "";
                ClutchForm.CheckLabel(form, page, label);
                string key = KeyFromName.Make(label, "clutch", page.Clutches.ContainsKey);
                bool finished = request.Finished == true;
                if (request.EggCount is null)
                {
                    form.Refuse("eggCount", "How many eggs were laid: count slugs too.");
                }

                ClutchEdit facts = new(
                    request.Label, request.Species, request.Dam, request.Sire, request.LayDate, request.LayDateSlackDays, request.FoundAt,
                    request.FemaleCelsius, request.AssumedCelsius, request.SecondPerson, request.Note);
                (Clutch clutch, string? note) = reader.Read(form, facts, request.EggCount ?? 1, label, key, by, now, finished);
                Guid id = Guid.CreateVersion7();
                ClutchPlacementRecord? placement = form.Refused || request.Tub is null
                    ? tubs.CheckOnly(form, request.Tub)
                    : tubs.PlaceNew(context, form, id, clutch, request.Tub, by);
                if (form.Refused)
                {
                    context.ChangeTracker.Clear();
                    return Task.FromResult(new ClutchChange(form, null));
                }

                context.Clutches.Add(Row(new ClutchRecord { Id = id, Key = key, Label = label, Species = "", Dam = "", By = by, EnteredAt = now }, clutch, note));
                context.Eggs.AddRange(EggPlan.Heap(clutch.EggCount).Select(egg => new EggRecord
                {
                    Id = Guid.CreateVersion7(),
                    Clutch = id,
                    Number = egg.Number,
                    X = egg.X,
                    Y = egg.Y,
                    Clump = egg.Clump,
                    By = by,
                    EnteredAt = now,
                }));
                if (finished)
                {
                    context.Clutches.Local.Single().FinishedAt = now;
                }

                if (placement is not null)
                {
                    placement.Until = finished ? Instant.Max(now, placement.From) : null;
                    context.ClutchPlacements.Add(placement);
                }

                return Task.FromResult(new ClutchChange(form, key));
            },
            cancellationToken);

    /// <summary>Changes what was entered of a clutch; null when there is none.</summary>
    /// <param name="key">Its key.</param>
    /// <param name="edit">Given what may be edited as it stands, what it is to be.</param>
    /// <param name="by">Who changes it.</param>
    /// <param name="cancellationToken">Gives up before the save.</param>
    public Task<ClutchChange?> EditAsync(string key, Func<ClutchEdit, ClutchEdit> edit, string by, CancellationToken cancellationToken)
        => book.ChangeAsync<ClutchChange?>(
            async (context, token) =>
            {
                if (book.Find(key) is not { } clutch)
                {
                    return null;
                }

                var form = new EntryForm();
                ClutchEdit facts = edit(Facts(clutch));
                string label = form.Name("label", facts.Label) ?? "";
                ClutchForm.CheckLabel(form, book.Current, label, clutch.Id);
                // Who pulled them with whom was settled when it was entered: the one who edits may be that second person.
                (Clutch to, string? note) = reader.Read(
                    form, facts, clutch.Eggs.Length, label, key, clutch.By, clutch.Clutch.EnteredAt,
                    // A lay date that is on record already is not judged anew, however long ago it is by now.
                    clutch.FinishedAt is not null || facts.LayDate == Facts(clutch).LayDate);
                if (!form.Refused)
                {
                    if (clutch.Stays.Any(stay => stay.From < calendar.LaidFrom(to.Laid)))
                    {
                        form.Say("On record it was put into a tub before that lay date. Both are kept; one of the two dates is wrong.");
                    }

                    Row(await context.Clutches.SingleAsync(c => c.Id == clutch.Id, token), to, note);
                }

                return new ClutchChange(form, key);
            },
            cancellationToken);

    /// <summary>Calls a clutch finished: its stay in the tub ends. Once is enough; null when there is none.</summary>
    public Task<ClutchChange?> FinishAsync(string key, CancellationToken cancellationToken)
        => book.ChangeAsync<ClutchChange?>(
            async (context, token) =>
            {
                if (book.Find(key) is not { } clutch)
                {
                    return null;
                }

                var form = new EntryForm();
                int open = clutch.Counts.Alive + clutch.Counts.Doubtful + clutch.Counts.NotLookedAt;
                if (open > 0)
                {
                    form.Say($"{(open == 1 ? "1 egg has" : $"{open} eggs have")} no outcome yet. Outcomes can still be entered.");
                }

                if (clutch.FinishedAt is null)
                {
                    Instant now = calendar.Now;
                    (await context.Clutches.SingleAsync(c => c.Id == clutch.Id, token)).FinishedAt = now;
                    await foreach (ClutchPlacementRecord stay in context.ClutchPlacements
                        .Where(p => p.Clutch == clutch.Id && p.Until == null).AsAsyncEnumerable().WithCancellation(token))
                    {
                        stay.Until = Instant.Max(now, stay.From);
                    }
                }

                return new ClutchChange(form, key);
            },
            cancellationToken);

    /// <summary>Puts a clutch into a tub; null when there is no such clutch.</summary>
    public Task<ClutchChange?> PlaceAsync(string key, ClutchPlacementRequest request, string by, CancellationToken cancellationToken)
        => book.ChangeAsync<ClutchChange?>(
            async (context, token) =>
            {
                if (book.Find(key) is not { } clutch)
                {
                    return null;
                }

                var form = new EntryForm();
                Instant now = calendar.Now;
                Instant? from = form.Time("from", request.From);
                if (request.Tub is null || !book.Current.Tubs.ContainsKey(request.Tub))
                {
                    form.Refuse("tub", "The key of a tub: choose one, or enter a new one first.");
                }

                if (clutch.FinishedAt is not null)
                {
                    form.Refuse("tub", $"{clutch.Clutch.Label} is finished: it lies in no tub any more.");
                }

                if (from is { } time)
                {
                    form.Take(ClutchRules.CheckMove(time, calendar.LaidFrom(clutch.Clutch.Laid), now));
                }

                if (form.Refused)
                {
                    return new ClutchChange(form, key);
                }

                StayFit fit = StayRule.Fit(
                    [.. clutch.Stays.Select(s => new Stay(s.Tub, s.From, s.Until))], request.Tub!, from, now, places.TubName, calendar.Spoken);
                if (fit.Refused is { } why)
                {
                    form.Refuse("from", why);
                    return new ClutchChange(form, key);
                }

                form.Take(ClutchRules.CheckPlace(
                    [.. places.In(request.Tub!).Where(c => c.Id != clutch.Id).Select(c => c.Clutch.Label)], places.TubName(request.Tub!)));
                if (!fit.Nothing)
                {
                    if (fit.Until is null)
                    {
                        await foreach (ClutchPlacementRecord stay in context.ClutchPlacements
                            .Where(p => p.Clutch == clutch.Id && p.Until == null).AsAsyncEnumerable().WithCancellation(token))
                        {
                            stay.Until = fit.From;
                        }
                    }

                    context.ClutchPlacements.Add(new ClutchPlacementRecord
                    {
                        Id = Guid.CreateVersion7(),
                        Clutch = clutch.Id,
                        Tub = request.Tub!,
                        From = fit.From,
                        Until = fit.Until,
                        By = by,
                        EnteredAt = now,
                    });
                }

                return new ClutchChange(form, key);
            },
            cancellationToken);

    private static ClutchRecord Row(ClutchRecord row, Clutch clutch, string? note)
    {
        row.Label = clutch.Label;
        row.Species = clutch.Species;
        row.Dam = clutch.Dam;
        row.Sire = clutch.Sire;
        row.LayDate = clutch.Laid.Date;
        row.LayDateSlackDays = clutch.Laid.SlackDays;
        row.FoundAt = clutch.FoundAt;
        row.FemaleCelsius = clutch.FemaleCelsius;
        row.AssumedCelsius = clutch.AssumedCelsius;
        row.SecondPerson = clutch.SecondPerson;
        row.Note = note;
        return row;
    }

    private static ClutchEdit Facts(BookedClutch clutch) => new(
        clutch.Clutch.Label, clutch.Clutch.Species, clutch.Clutch.Dam, clutch.Clutch.Sire,
        NodaTime.Text.LocalDatePattern.Iso.Format(clutch.Clutch.Laid.Date), clutch.Clutch.Laid.SlackDays,
        clutch.Clutch.FoundAt is { } found ? NodaTime.Text.InstantPattern.ExtendedIso.Format(found) : null,
        clutch.Clutch.FemaleCelsius, clutch.Clutch.AssumedCelsius, clutch.Clutch.SecondPerson, clutch.Note);
}
