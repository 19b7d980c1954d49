using System.Security.Claims;
using Incubation.Service.Http;
using Incubation.Service.People;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Clutches;

/// <summary>HTTP face of outcomes.</summary>
internal static class OutcomeEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        RouteGroupBuilder group = api.MapGroup("/clutches/{key}/outcomes").WithTags("Clutches");
        group.MapGet("/", List).WithName("listOutcomes").WithSummary("Outcomes of a clutch, corrected ones included, in order of seeing.")
            .ProducesProblem(StatusCodes.Status404NotFound);
        group.MapPut("/{id:guid}", Put).WithName("putOutcome")
            .WithSummary("Enters what became of an egg, under an id of the sender's: the same again changes nothing, another under that id is refused.")
            .RequireAuthorization(Policies.Keeper).ProducesProblem(StatusCodes.Status400BadRequest)
            .ProducesProblem(StatusCodes.Status404NotFound).ProducesProblem(StatusCodes.Status409Conflict);
    }

    private static Results<Ok<IReadOnlyList<OutcomeView>>, ProblemHttpResult> List(string key, int? egg, ClutchBook book)
        => book.Find(key) is { } clutch
            ? TypedResults.Ok<IReadOnlyList<OutcomeView>>(
                [.. clutch.Outcomes.Where(o => egg is null || o.Outcome.Egg == egg).Select(OutcomeView.Of)])
            : ClutchEndpoints.Missing(key);

    private static async Task<Results<Created<OutcomeView>, Ok<OutcomeView>, ProblemHttpResult>> Put(
        string key, Guid id, OutcomeRequest request, ClaimsPrincipal user, OutcomeChanges changes, ClutchBook book, ClutchPages pages,
        CancellationToken cancellationToken)
    {
        Appended appended = await changes.PutAsync(key, id, request, user.Identity!.Name!, cancellationToken);
        return appended.What switch
        {
            Appending.Added => TypedResults.Created($"/api/clutches/{key}/outcomes", View()),
            Appending.AlreadyThere => TypedResults.Ok(View()),
            Appending.IdTaken => Problems.Conflict("Another outcome is on record under this id, and stays. Send this one under an id of its own."),
            Appending.Refused => appended.Form.Problem(),
            _ => ClutchEndpoints.Missing(key),
        };

        OutcomeView View()
        {
            BookedClutch clutch = book.Find(key)!;
            BookedOutcome there = clutch.Outcomes.First(o => o.Outcome.Id == id);
            return OutcomeView.Of(there) with { Said = appended.Form.Said, EggNow = pages.Egg(clutch.Egg(there.Outcome.Egg)!) };
        }
    }
}
