using System.Security.Claims;
using Incubation.Core.Clutches;
using Incubation.Core.Development;
using Incubation.Service.Http;
using Incubation.Service.People;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Clutches;

/// <summary>HTTP face of tubs, and of the species that the catalogue knows.</summary>
internal static class TubEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/species", Species).WithName("listSpecies").WithTags("Clutches")
            .WithSummary("Species with their default bands, their development profile and what it rests on.");
        RouteGroupBuilder group = api.MapGroup("/tubs").WithTags("Tubs");
        group.MapGet("/", List).WithName("listTubs").WithSummary("Tubs, where they stand and what lies in them.");
        group.MapPost("/", Add).WithName("addTub").WithSummary("Enters a tub, and where it stands.")
            .RequireAuthorization(Policies.Keeper).ProducesProblem(StatusCodes.Status400BadRequest);
        group.MapPost("/{key}/placements", Place).WithName("placeTub").WithSummary("Puts a tub into an incubator; a move ends where it was.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
    }

    private static Ok<IReadOnlyList<SpeciesView>> Species() => TypedResults.Ok<IReadOnlyList<SpeciesView>>(
    [
        .. SpeciesCatalogue.All.Select(species => new SpeciesView(
            species.Key, species.Name, species.Words, species.LargeConstrictor,
            new Dictionary<string, SpeciesBandView> { ["temperature"] = Band(species.Temperature), ["humidity"] = Band(species.Humidity) },
            DevelopmentProfiles.Find(species.Key) is { } profile
                ? new ProfileView(profile.Zero, profile.ZeroSd, profile.Constant, profile.Source,
                    profile.Evidence == Evidence.Published ? "published" : "common practice")
                : null,
            PullingEggs.Cautions(species))),
    ]);

    private static SpeciesBandView Band(BandLimits limits) => new(limits.DangerLow, limits.WarningLow, limits.WarningHigh, limits.DangerHigh);

    private static Ok<IReadOnlyList<TubView>> List(ClutchBook book, ClutchWhereabouts places) => TypedResults.Ok<IReadOnlyList<TubView>>(
        [.. book.Current.Tubs.Values.OrderBy(t => t.Tub.Name, StringComparer.OrdinalIgnoreCase).Select(t => View(t, places))]);

    private static async Task<Results<Created<TubView>, ProblemHttpResult>> Add(
        TubRequest request, ClaimsPrincipal user, TubChanges changes, ClutchBook book, ClutchWhereabouts places, CancellationToken cancellationToken)
        => Answer(await changes.AddAsync(request, user.Identity!.Name!, cancellationToken), "", book, places);

    private static async Task<Results<Created<TubView>, ProblemHttpResult>> Place(
        string key, TubPlacementRequest request, ClaimsPrincipal user, TubChanges changes, ClutchBook book, ClutchWhereabouts places,
        CancellationToken cancellationToken)
        => Answer(await changes.PlaceAsync(key, request, user.Identity!.Name!, cancellationToken), key, book, places);

    private static Results<Created<TubView>, ProblemHttpResult> Answer(TubChange? change, string key, ClutchBook book, ClutchWhereabouts places)
        => change is null ? Problems.NotFound($"There is no tub '{key}'.")
            : change.Form.Refused ? change.Form.Problem()
            : TypedResults.Created($"/api/tubs/{change.Key}", View(book.Current.Tubs[change.Key!], places) with { Said = change.Form.Said });

    private static TubView View(BookedTub tub, ClutchWhereabouts places) => new(
        tub.Tub.Key, tub.Tub.Name, tub.Tub.Substrate, tub.Tub.SubstrateGrams, tub.Tub.WaterGrams, tub.Tub.WaterToSubstrate,
        tub.Now?.Incubator, places.IncubatorName(tub.Now?.Incubator), tub.Now is { Shelf.Length: > 0 } at ? at.Shelf : null, tub.Now?.From,
        [.. places.In(tub.Tub.Key).Select(clutch => clutch.Clutch.Label)]);
}
