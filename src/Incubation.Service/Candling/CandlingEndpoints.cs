using System.Security.Claims;
using Incubation.Core.Candling;
using Incubation.Service.Clutches;
using Incubation.Service.Http;
using Incubation.Service.People;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Candling;

/// <summary>HTTP face of candling.</summary>
internal static class CandlingEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/candling-words", Words).WithName("getCandlingWords").WithTags("Candling")
            .WithSummary("Vein words, slug answers, shell terms, and the rules by which an egg's status follows.");
        RouteGroupBuilder group = api.MapGroup("/clutches/{key}/candlings").WithTags("Candling");
        group.MapGet("/", List).WithName("listCandlings").WithSummary("Looks at the eggs of a clutch, corrected ones included, in order of looking.")
            .ProducesProblem(StatusCodes.Status404NotFound);
        group.MapPut("/{id:guid}", Put).WithName("putCandling")
            .WithSummary("Enters a look at an egg, under an id of the phone's: the same again changes nothing, another under that id is refused.")
            .RequireAuthorization(Policies.Keeper).ProducesProblem(StatusCodes.Status400BadRequest)
            .ProducesProblem(StatusCodes.Status404NotFound).ProducesProblem(StatusCodes.Status409Conflict);
    }

    private static Ok<CandlingWordsView> Words() => TypedResults.Ok(new CandlingWordsView(
        [.. Enum.GetValues<Veins>().Select(CandlingWords.Word)], [.. Enum.GetValues<SlugLook>().Select(CandlingWords.Word)],
        CandlingWords.ShellTerms,
        [.. StatusRules.All.Select(rule => new StatusRuleView(rule.Number, CandlingWords.Word(rule.Status), rule.Words))]));

    private static Results<Ok<IReadOnlyList<CandlingView>>, ProblemHttpResult> List(string key, int? egg, ClutchBook book)
        => book.Find(key) is { } clutch
            ? TypedResults.Ok<IReadOnlyList<CandlingView>>(
                [.. clutch.Candlings.Where(look => egg is null || look.Entry.Egg == egg).Select(CandlingView.Of)])
            : ClutchEndpoints.Missing(key);

    private static async Task<Results<Created<CandlingView>, Ok<CandlingView>, ProblemHttpResult>> Put(
        string key, Guid id, CandlingRequest request, ClaimsPrincipal user, CandlingDesk desk, ClutchBook book, ClutchPages pages,
        CancellationToken cancellationToken)
    {
        Appended appended = await desk.PutAsync(key, id, request, user.Identity!.Name!, cancellationToken);
        return appended.What switch
        {
            Appending.Added => TypedResults.Created($"/api/clutches/{key}/candlings", View()),
            Appending.AlreadyThere => TypedResults.Ok(View()),
            Appending.IdTaken => Problems.Conflict("Another entry is on record under this id, and stays. Send this one under an id of its own."),
            Appending.Refused => appended.Form.Problem(),
            _ => ClutchEndpoints.Missing(key),
        };

        CandlingView View()
        {
            BookedClutch clutch = book.Find(key)!;
            BookedLook there = clutch.Candlings.First(look => look.Entry.Id == id);
            return CandlingView.Of(there) with { Said = appended.Form.Said, EggNow = pages.Egg(clutch.Egg(there.Entry.Egg)!) };
        }
    }
}
