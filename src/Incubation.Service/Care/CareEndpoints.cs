using System.Globalization;
using System.Security.Claims;
using Incubation.Core;
using Incubation.Service.Clutches;
using Incubation.Service.Http;
using Incubation.Service.People;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Care;

/// <summary>HTTP face of the care log.</summary>
internal static class CareEndpoints
{
    private const int UsualLines = 100;

    public static void Map(RouteGroupBuilder api)
    {
        RouteGroupBuilder group = api.MapGroup("/care").WithTags("Care");
        group.MapGet("/", List).WithName("listCare").WithSummary("The care log, the newest first, of all or of one tub or incubator.")
            .ProducesProblem(StatusCodes.Status400BadRequest);
        group.MapPut("/{id:guid}", Put).WithName("putCare")
            .WithSummary("Notes what was done, under an id of the phone's: the same again changes nothing, another under that id is refused.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status409Conflict);
    }

    private static async Task<Results<Ok<IReadOnlyList<CareView>>, ProblemHttpResult>> List(
        string? on, string? key, int? limit, CareDesk desk, CancellationToken cancellationToken)
        => on is not (null or CareDesk.Tub or CareDesk.Incubator) ? Problems.Invalid("on", "tub, incubator, or left out.")
            : on is null && key is not null ? Problems.Invalid("on", "tub or incubator: a key alone does not say which.")
            : limit is < 1 or > Limits.CareLines
                ? Problems.Invalid("limit", string.Create(CultureInfo.InvariantCulture, $"1 to {Limits.CareLines}."))
            : TypedResults.Ok(await desk.ListAsync(on, key, limit ?? UsualLines, cancellationToken));

    private static async Task<Results<Created<CareView>, Ok<CareView>, ProblemHttpResult>> Put(
        Guid id, CareRequest request, ClaimsPrincipal user, CareDesk desk, CancellationToken cancellationToken)
    {
        (Appending what, EntryForm form, CareView? line) = await desk.PutAsync(id, request, user.Identity!.Name!, cancellationToken);
        return what switch
        {
            Appending.Added => TypedResults.Created("/api/care", line! with { Said = form.Said }),
            Appending.AlreadyThere => TypedResults.Ok(line! with { Said = form.Said }),
            Appending.IdTaken => Problems.Conflict("Another line is on record under this id, and stays. Send this one under an id of its own."),
            _ => form.Problem(),
        };
    }
}
