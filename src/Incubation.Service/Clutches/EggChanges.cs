using System.Globalization;
using Incubation.Core;
using Incubation.Core.Clutches;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;

namespace Incubation.Service.Clutches;

/// <summary>The changes a keeper makes to the eggs of a clutch and where they lie.</summary>
internal sealed class EggChanges(ClutchBook book, ClutchCalendar calendar)
{
    /// <summary>Takes over the places of the eggs that were moved; the others stay. Null when there is no such clutch.</summary>
    public Task<ClutchChange?> PlanAsync(string key, PlanRequest request, CancellationToken cancellationToken)
        => book.ChangeAsync<ClutchChange?>(
            async (context, token) =>
            {
                if (book.Find(key) is not { } clutch)
                {
                    return null;
                }

                var form = new EntryForm();
                Egg[] moved = Read(form, clutch, request);
                if (form.Refused)
                {
                    return new ClutchChange(form, key);
                }

                Dictionary<int, Egg> by = moved.ToDictionary(egg => egg.Number);
                form.Take(EggPlan.Check([.. clutch.Eggs.Select(egg => by.GetValueOrDefault(egg.Place.Number, egg.Place))]));
                if (!form.Refused)
                {
                    foreach (EggRecord row in await context.Eggs.Where(e => e.Clutch == clutch.Id).ToListAsync(token))
                    {
                        if (by.TryGetValue(row.Number, out Egg? to))
                        {
                            (row.X, row.Y, row.Clump) = (to.X, to.Y, to.Clump);
                        }
                    }
                }

                return new ClutchChange(form, key);
            },
            cancellationToken);

    /// <summary>Adds an egg that was found or forgotten; null when there is no such clutch.</summary>
    public Task<ClutchChange?> AddAsync(string key, EggRequest request, string by, CancellationToken cancellationToken)
        => book.ChangeAsync<ClutchChange?>(
            (context, _) =>
            {
                if (book.Find(key) is not { } clutch)
                {
                    return Task.FromResult<ClutchChange?>(null);
                }

                var form = new EntryForm();
                if (request.Number is not { } number)
                {
                    form.Refuse("number", "The number pencilled on the egg.");
                    return Task.FromResult<ClutchChange?>(new ClutchChange(form, key));
                }

                form.Take(ClutchRules.CheckNumber(number, [.. clutch.Eggs.Select(egg => egg.Place.Number)]));
                if (!form.Refused)
                {
                    Egg edge = EggPlan.Heap(clutch.Eggs.Length + 1)[^1];
                    var egg = new Egg(number, request.X ?? edge.X, request.Y ?? edge.Y, request.Clump is 0 ? null : request.Clump);
                    form.Take(EggPlan.Check([.. clutch.Eggs.Select(e => e.Place), egg]));
                    if (!form.Refused)
                    {
                        context.Eggs.Add(new EggRecord
                        {
                            Id = Guid.CreateVersion7(),
                            Clutch = clutch.Id,
                            Number = egg.Number,
                            X = egg.X,
                            Y = egg.Y,
                            Clump = egg.Clump,
                            By = by,
                            EnteredAt = calendar.Now,
                        });
                    }
                }

                return Task.FromResult<ClutchChange?>(new ClutchChange(form, key));
            },
            cancellationToken);

    /// <summary>
    /// Takes away an egg that was counted by mistake: only one of which nothing was ever entered, and never the last. Null when
    /// there is no such clutch or egg; otherwise why not, or empty when it is done.
    /// </summary>
    public Task<string?> RemoveAsync(string key, int number, CancellationToken cancellationToken)
        => book.ChangeAsync<string?>(
            async (context, token) =>
            {
                if (book.Find(key) is not { } clutch || clutch.Egg(number) is not { } egg)
                {
                    return null;
                }

                if (!egg.Looks.IsEmpty || clutch.Outcomes.Any(o => o.Outcome.Egg == number))
                {
                    return string.Create(CultureInfo.InvariantCulture, $"Entries about egg {number} are on record, so the egg stays. If it was none, enter it as a slug.");
                }

                if (clutch.Eggs.Length == 1)
                {
                    return "A clutch has at least one egg.";
                }

                context.Eggs.Remove(await context.Eggs.SingleAsync(e => e.Id == egg.Id, token));
                return "";
            },
            cancellationToken);

    private static Egg[] Read(EntryForm form, BookedClutch clutch, PlanRequest request)
    {
        if (request.Eggs is not { Count: > 0 } sent)
        {
            form.Refuse("eggs", "At least one egg with its number and place.");
            return [];
        }

        if (sent.Count > Limits.EggsPerClutch)
        {
            // Core has the words for too many; places don't matter then.
            form.Take(EggPlan.Check([.. sent.Select(_ => new Egg(1, 0, 0, null))]));
            return [];
        }

        var moved = new List<Egg>(sent.Count);
        foreach (PlanEgg? egg in sent)
        {
            if (egg is not { Number: { } number, X: { } x, Y: { } y })
            {
                form.Refuse("eggs", "Each egg needs its number and its place, x and y.");
            }
            else if (clutch.Egg(number) is not { } known)
            {
                form.Refuse("eggs", string.Create(CultureInfo.InvariantCulture, $"There is no egg {number} in this clutch: add it first, or check the number."));
            }
            else
            {
                // Left out, the clump stays; 0 sets the egg free.
                moved.Add(new Egg(number, x, y, egg.Clump is 0 ? null : egg.Clump ?? known.Place.Clump));
            }
        }

        // A number twice is refused before it could overwrite the other.
        form.Take(EggPlan.Check(moved).Where(remark => remark.Refuses));
        return [.. moved];
    }
}
