using System.Security.Claims;
using System.Text.Json;
using Incubation.Core.Clutches;
using Incubation.Core.Development;
using Incubation.Service.Http;
using Incubation.Service.People;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Json;
using Microsoft.Extensions.Options;

namespace Incubation.Service.Clutches;

/// <summary>HTTP face of clutches and their eggs.</summary>
internal static class ClutchEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        RouteGroupBuilder group = api.MapGroup("/clutches").WithTags("Clutches");
        group.MapGet("/", List).WithName("listClutches").WithSummary("Clutches on one line each: incubating (hatching ones too), finished, or all.")
            .ProducesProblem(StatusCodes.Status400BadRequest);
        group.MapPost("/", Add).WithName("addClutch").WithSummary("Enters a clutch with its eggs and tub; what is odd but not wrong comes back as said.")
            .RequireAuthorization(Policies.Keeper).ProducesProblem(StatusCodes.Status400BadRequest);
        group.MapGet("/{key}", Get).WithName("getClutch").WithSummary("A clutch's page: eggs with status, places, forecast, pairings.")
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
        group.MapPut("/{key}", Edit).WithName("updateClutch").WithSummary("Changes what was entered of a clutch; members that are left out stay.")
            .Accepts<ClutchEdit>("application/json").RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
        group.MapPost("/{key}/finish", Finish).WithName("finishClutch").WithSummary("Calls a clutch finished; its stay in the tub ends.")
            .RequireAuthorization(Policies.Keeper).ProducesProblem(StatusCodes.Status404NotFound);
        group.MapPost("/{key}/placements", Place).WithName("placeClutch").WithSummary("Puts a clutch into a tub; a move ends where it was.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
        group.MapPut("/{key}/plan", Plan).WithName("planEggs").WithSummary("Where the eggs lie in the tub; eggs that are left out stay.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
        group.MapPost("/{key}/eggs", AddEgg).WithName("addEgg").WithSummary("Adds an egg by its number.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
        group.MapDelete("/{key}/eggs/{number:int}", RemoveEgg).WithName("removeEgg")
            .WithSummary("Takes away an egg counted by mistake, while nothing was entered about it.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status404NotFound).ProducesProblem(StatusCodes.Status409Conflict);
    }

    private static async Task<Results<Ok<IReadOnlyList<ClutchLine>>, ProblemHttpResult>> List(
        string? state, ClutchLines lines, CancellationToken cancellationToken)
        => state is null or ClutchLines.Incubating or ClutchLines.Finished or ClutchLines.All
            ? TypedResults.Ok(await lines.ListAsync(state ?? ClutchLines.Incubating, cancellationToken))
            : Problems.Invalid("state", $"{ClutchLines.Incubating}, {ClutchLines.Finished} or {ClutchLines.All}");

    private static async Task<Results<Created<ClutchLine>, ProblemHttpResult>> Add(
        ClutchRequest request, ClaimsPrincipal user, ClutchChanges changes, ClutchBook book, ClutchLines lines, CancellationToken cancellationToken)
    {
        ClutchChange change = await changes.AddAsync(request, user.Identity!.Name!, cancellationToken);
        IReadOnlyList<string> cautions = SpeciesCatalogue.Find(request.Species ?? "") is { } species ? PullingEggs.Cautions(species) : [];
        if (change.Form.Refused)
        {
            ProblemHttpResult problem = change.Form.Problem();
            problem.ProblemDetails.Extensions["cautions"] = cautions;
            return problem;
        }

        ClutchLine line = await lines.OfAsync(book.Find(change.Key!)!, cancellationToken);
        return TypedResults.Created($"/api/clutches/{change.Key}", line with { Said = change.Form.Said, Cautions = cautions });
    }

    private static async Task<Results<Ok<ClutchPage>, ProblemHttpResult>> Get(
        string key, string? temperature, ClutchBook book, ClutchPages pages, CancellationToken cancellationToken)
        => temperature is not (null or "Cel" or "degF" or "[degF]")
            ? Problems.Invalid("temperature", "Cel or degF")
            : book.Find(key) is { } clutch
                ? TypedResults.Ok(await pages.OfAsync(
                    clutch, temperature is null or "Cel" ? TemperatureScale.Celsius : TemperatureScale.Fahrenheit, cancellationToken))
                : Missing(key);

    private static async Task<Results<Ok<ClutchLine>, ProblemHttpResult>> Edit(
        string key, JsonElement sent, ClaimsPrincipal user, IOptions<JsonOptions> json, ClutchChanges changes, ClutchBook book,
        ClutchLines lines, CancellationToken cancellationToken)
        => await Answer(
            key, await changes.EditAsync(
                key, facts => MergedJson.Merge(facts, sent, json.Value.SerializerOptions), user.Identity!.Name!, cancellationToken),
            book, lines, cancellationToken);

    private static async Task<Results<Ok<ClutchLine>, ProblemHttpResult>> Finish(
        string key, ClutchChanges changes, ClutchBook book, ClutchLines lines, CancellationToken cancellationToken)
        => await Answer(key, await changes.FinishAsync(key, cancellationToken), book, lines, cancellationToken);

    private static async Task<Results<Created<ClutchLine>, ProblemHttpResult>> Place(
        string key, ClutchPlacementRequest request, ClaimsPrincipal user, ClutchChanges changes, ClutchBook book, ClutchLines lines,
        CancellationToken cancellationToken)
        => (await Answer(
            key, await changes.PlaceAsync(key, request, user.Identity!.Name!, cancellationToken), book, lines, cancellationToken)).Result switch
        {
            Ok<ClutchLine> line => TypedResults.Created($"/api/clutches/{key}", line.Value),
            ProblemHttpResult problem => problem,
            _ => throw new InvalidOperationException("An answer is a line or a problem."),
        };

    private static async Task<Results<Ok<ClutchLine>, ProblemHttpResult>> Plan(
        string key, PlanRequest request, EggChanges changes, ClutchBook book, ClutchLines lines, CancellationToken cancellationToken)
        => await Answer(key, await changes.PlanAsync(key, request, cancellationToken), book, lines, cancellationToken);

    private static async Task<Results<Created<EggView>, ProblemHttpResult>> AddEgg(
        string key, EggRequest request, ClaimsPrincipal user, EggChanges changes, ClutchBook book, ClutchPages pages,
        CancellationToken cancellationToken)
    {
        ClutchChange? change = await changes.AddAsync(key, request, user.Identity!.Name!, cancellationToken);
        return change is null ? Missing(key)
            : change.Form.Refused ? change.Form.Problem()
            : TypedResults.Created($"/api/clutches/{key}", pages.Egg(book.Find(key)!.Egg(request.Number!.Value)!));
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> RemoveEgg(
        string key, int number, EggChanges changes, CancellationToken cancellationToken)
        => await changes.RemoveAsync(key, number, cancellationToken) switch
        {
            null => Problems.NotFound($"There is no egg {number} of a clutch '{key}'."),
            "" => TypedResults.NoContent(),
            string why => Problems.Conflict(why),
        };

    private static async Task<Results<Ok<ClutchLine>, ProblemHttpResult>> Answer(
        string key, ClutchChange? change, ClutchBook book, ClutchLines lines, CancellationToken cancellationToken)
        => change is null ? Missing(key)
            : change.Form.Refused ? change.Form.Problem()
            : TypedResults.Ok(await lines.OfAsync(book.Find(key)!, cancellationToken) with { Said = change.Form.Said });

    internal static ProblemHttpResult Missing(string key) => Problems.NotFound($"There is no clutch '{key}'.");
}
