using System.Globalization;
using Incubation.Core;
using Incubation.Core.Clutches;
using Incubation.Service.Facility;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Clutches;

/// <summary>What came of a change of a tub.</summary>
internal sealed record TubChange(EntryForm Form, string? Key);

/// <summary>The changes a keeper makes to tubs and where they stand.</summary>
internal sealed class TubChanges(ClutchBook book, ClutchWhereabouts places, IFacility facility, ClutchCalendar calendar)
{
    // A tub may have stood there warm before the eggs came; further back is a slip of the finger.
    private static readonly Duration FurthestBack = Duration.FromDays(2 * 366);

    /// <summary>Enters a tub and, when it is said, where it stands.</summary>
    public Task<TubChange> AddAsync(TubRequest request, string by, CancellationToken cancellationToken)
        => book.ChangeAsync(
            (context, _) =>
            {
                var form = new EntryForm();
                Instant from = FromOf(form, "from", request.From) ?? calendar.Now;
                ClutchTubRequest tub = new(
                    null, request.Name, request.Substrate, request.SubstrateGrams, request.WaterGrams, request.Incubator, request.Shelf, null);
                string? key = AddTub(context, form, tub, from, by, null);
                if (form.Refused)
                {
                    context.ChangeTracker.Clear();
                }

                return Task.FromResult(new TubChange(form, form.Refused ? null : key));
            },
            cancellationToken);

    /// <summary>Puts a tub into an incubator; null when there is no such tub.</summary>
    public Task<TubChange?> PlaceAsync(string key, TubPlacementRequest request, string by, CancellationToken cancellationToken)
        => book.ChangeAsync<TubChange?>(
            async (context, token) =>
            {
                if (!book.Current.Tubs.TryGetValue(key, out BookedTub? tub))
                {
                    return null;
                }

                var form = new EntryForm();
                Instant? from = FromOf(form, "from", request.From);
                string? shelf = form.NameOrNone("shelf", request.Shelf);
                CheckIncubator(form, "incubator", request.Incubator, mustBe: true);
                if (!form.Refused)
                {
                    await MoveAsync(context, form, "from", tub, request.Incubator!, shelf, from, by, token);
                }

                return new TubChange(form, key);
            },
            cancellationToken);

    /// <summary>Checks the tub of a clutch that is refused already, so that everything is said at once.</summary>
    public ClutchPlacementRecord? CheckOnly(EntryForm form, ClutchTubRequest? request)
    {
        if (request is not null)
        {
            FromOf(form, "tub.from", request.From);
            CheckIncubator(form, "tub.incubator", request.Incubator, mustBe: false);
            if (request.Key is null)
            {
                CheckTub(form, request, "tub");
            }
            else if (!book.Current.Tubs.ContainsKey(request.Key))
            {
                form.Refuse("tub.key", UnknownTub);
            }
        }

        return null;
    }

    /// <summary>The stay of a new clutch in the tub that was entered with it; the tub itself where it is new.</summary>
    public ClutchPlacementRecord? PlaceNew(
        RecordsContext context, EntryForm form, Guid id, Clutch clutch, ClutchTubRequest request, string by)
    {
        Instant now = calendar.Now;
        Instant? given = FromOf(form, "tub.from", request.From);
        if (given is { } time)
        {
            foreach (Remark remark in ClutchRules.CheckMove(time, calendar.LaidFrom(clutch.Laid), now))
            {
                form.Refuse("tub.from", remark.Words);
            }
        }

        Instant from = given ?? clutch.FoundAt ?? now;
        string? key = request.Key;
        if (key is null)
        {
            key = AddTub(context, form, request, from, by, "tub");
        }
        else if (!book.Current.Tubs.TryGetValue(key, out BookedTub? tub))
        {
            form.Refuse("tub.key", UnknownTub);
        }
        else
        {
            form.Take(ClutchRules.CheckPlace([.. places.In(key).Select(c => c.Clutch.Label)], tub.Tub.Name));
            CheckIncubator(form, "tub.incubator", request.Incubator, mustBe: false);
            if (request.Incubator is { } incubator && tub.Now?.Incubator != incubator)
            {
                form.Say($"{tub.Tub.Name} stands {(tub.Now is { } now1 ? $"in {places.IncubatorName(now1.Incubator)}" : "in no incubator")} on record "
                    + $"and was left there. Move the tub if it stands in {places.IncubatorName(incubator)}.");
            }
        }

        string? standsIn = request.Key is null ? request.Incubator : book.Current.Tubs.GetValueOrDefault(request.Key)?.Now?.Incubator;
        if (standsIn is not null && !facility.Current.Placements.Values.Any(p => p.Incubator == standsIn))
        {
            form.Say($"No probe is placed in {places.IncubatorName(standsIn)}: nothing watches these eggs until one is.");
        }

        return key is null ? null : new ClutchPlacementRecord
        {
            Id = Guid.CreateVersion7(),
            Clutch = id,
            Tub = key,
            From = from,
            By = by,
            EnteredAt = now,
        };
    }

    private const string UnknownTub = "The key of a tub on record; leave it out to enter a new one.";

    private string? AddTub(RecordsContext context, EntryForm form, ClutchTubRequest request, Instant from, string by, string? within)
    {
        string Field(string name) => within is null ? name : $"{within}.{name}";
        Tub tub = CheckTub(form, request, within);
        CheckIncubator(form, Field("incubator"), request.Incubator, mustBe: false);
        string? shelf = form.NameOrNone(Field("shelf"), request.Shelf);
        if (form.Refused)
        {
            return null;
        }

        Instant now = calendar.Now;
        context.Tubs.Add(new TubRecord
        {
            Key = tub.Key,
            Name = tub.Name,
            Substrate = tub.Substrate,
            SubstrateGrams = tub.SubstrateGrams,
            WaterGrams = tub.WaterGrams,
            By = by,
            EnteredAt = now,
        });
        if (request.Incubator is not null)
        {
            context.TubPlacements.Add(new TubPlacementRecord
            {
                Id = Guid.CreateVersion7(),
                Tub = tub.Key,
                Incubator = request.Incubator,
                Shelf = shelf,
                From = from,
                By = by,
                EnteredAt = now,
            });
        }

        return tub.Key;
    }

    private Tub CheckTub(EntryForm form, ClutchTubRequest request, string? within)
    {
        string Field(string name) => within is null ? name : $"{within}.{name}";
        ClutchBookPage page = book.Current;
        string name = form.Name(Field("name"), request.Name) ?? "";
        string substrate = form.NameOrNone(Field("substrate"), request.Substrate) ?? "";
        var tub = new Tub(KeyFromName.Make(name, "tub", page.Tubs.ContainsKey), name, substrate, request.SubstrateGrams, request.WaterGrams);
        form.Take(tub.Check().Where(r => r.Field != "name" || name.Length > 0), within);
        if (page.Tubs.Values.FirstOrDefault(t => string.Equals(t.Tub.Name, name, StringComparison.OrdinalIgnoreCase)) is { } same)
        {
            form.Refuse(Field("name"),
                $"There is a tub {same.Tub.Name} already{(same.Now is { } at ? $", in {places.IncubatorName(at.Incubator)}" : "")}. "
                + "Choose it, or write another name on this one.");
        }

        if (page.Tubs.Count >= Limits.Tubs)
        {
            form.Refuse(Field("name"), string.Create(CultureInfo.InvariantCulture, $"There are {Limits.Tubs} tubs on record: use one again."));
        }

        return tub;
    }

    private async Task MoveAsync(
        RecordsContext context, EntryForm form, string field, BookedTub tub, string incubator, string? shelf, Instant? from, string by,
        CancellationToken cancellationToken)
    {
        // Another shelf of the same incubator is another place.
        static string Place(string incubator, string? shelf) => $"{incubator}\n{shelf}";
        StayFit fit = StayRule.Fit(
            [.. tub.Stays.Select(s => new Stay(Place(s.Incubator, s.Shelf), s.From, s.Until))], Place(incubator, shelf), from, calendar.Now,
            place => places.IncubatorName(place[..place.IndexOf('\n', StringComparison.Ordinal)])!, calendar.Spoken);
        if (fit.Refused is { } why)
        {
            form.Refuse(field, why);
            return;
        }

        if (fit.Nothing)
        {
            return;
        }

        if (fit.Until is null)
        {
            await foreach (TubPlacementRecord stay in context.TubPlacements
                .Where(p => p.Tub == tub.Tub.Key && p.Until == null).AsAsyncEnumerable().WithCancellation(cancellationToken))
            {
                stay.Until = fit.From;
            }
        }

        context.TubPlacements.Add(new TubPlacementRecord
        {
            Id = Guid.CreateVersion7(),
            Tub = tub.Tub.Key,
            Incubator = incubator,
            Shelf = shelf,
            From = fit.From,
            Until = fit.Until,
            By = by,
            EnteredAt = calendar.Now,
        });
    }

    private Instant? FromOf(EntryForm form, string field, string? raw)
    {
        Instant? from = form.Time(field, raw);
        if (from > calendar.Now + Duration.FromMinutes(5))
        {
            form.Refuse(field, "The move is still to come: enter it when it has happened.");
        }
        else if (from < calendar.Now - FurthestBack)
        {
            form.Refuse(field, "That is more than two years ago: check the year.");
        }

        return from;
    }

    private void CheckIncubator(EntryForm form, string field, string? incubator, bool mustBe)
    {
        if (incubator is null ? mustBe : !facility.Current.Incubators.Any(i => i.Key == incubator))
        {
            form.Refuse(field, "The key of an incubator in use.");
        }
    }
}
