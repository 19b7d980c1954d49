using System.Security.Claims;
using Incubation.Service.Facility;
using Incubation.Service.Hosting;
using Incubation.Service.Http;
using Incubation.Service.People;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;
using NodaTime.Text;

namespace Incubation.Service.Probes;

/// <summary>HTTP face of probes and where they are.</summary>
internal static class ProbeEndpoints
{
    // A phone's clock may be a little ahead of ours.
    private static readonly Duration Ahead = Duration.FromMinutes(1);

    public static void Map(RouteGroupBuilder api)
    {
        RouteGroupBuilder group = api.MapGroup("/probes").WithTags("Probes");
        group.MapGet("/", List).WithName("listProbes").WithSummary("Every probe ever heard, placed or not yet placed.");
        group.MapPut("/{key}", Name).WithName("nameProbe").WithSummary("Gives a probe a name.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
        group.MapPost("/{key}/placements", Place).WithName("placeProbe").WithSummary("Puts a probe into an incubator; a move ends where it was.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
        group.MapPost("/{key}/looks", Look).WithName("lookAtProbe").WithSummary("Begins its least and most anew for the person who asks.")
            .ProducesProblem(StatusCodes.Status404NotFound);
        group.MapDelete("/{key}/placements/current", TakeOut).WithName("takeProbeOut").WithSummary("Takes a probe out of its incubator.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status404NotFound).ProducesProblem(StatusCodes.Status409Conflict);
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> Look(
        string key, ClaimsPrincipal user, ProbeRegister register, ProbeLooks looks, CancellationToken cancellationToken)
    {
        if (register.Find(key) is null)
        {
            return Missing(key);
        }

        await looks.LookAsync(user.Identity!.Name!, key, cancellationToken);
        return TypedResults.NoContent();
    }

    private static Ok<ProbeLists> List(ClaimsPrincipal user, ProbeViews views) => TypedResults.Ok(views.All(user.Identity!.Name!));

    private static async Task<Results<Ok<ProbeView>, ProblemHttpResult>> Name(
        string key, ProbeRequest request, ClaimsPrincipal user, ProbeChanges changes, ProbeViews views, CancellationToken cancellationToken)
    {
        string? name = null;
        if (!string.IsNullOrWhiteSpace(request.Name) && !PlainName.TryRead(request.Name, out name))
        {
            return Problems.Invalid("name", $"{PlainName.Allowed} Empty for none.");
        }

        return await changes.NameAsync(key, name, cancellationToken) ? TypedResults.Ok(views.Find(key, user.Identity!.Name!)!) : Missing(key);
    }

    private static async Task<Results<Created<ProbeView>, ProblemHttpResult>> Place(
        string key, PlacementRequest request, ClaimsPrincipal user, ProbeChanges changes, ProbeViews views, ServiceClock clock,
        CancellationToken cancellationToken)
    {
        Dictionary<string, string[]> errors = [];
        if (string.IsNullOrEmpty(request.Incubator))
        {
            errors["incubator"] = ["the key of an incubator in use."];
        }

        if (!PlainName.TryRead(request.Where, out string? where))
        {
            errors["where"] = [$"{PlainName.Allowed} Such as: air, upper shelf."];
        }

        Instant? from = null;
        if (request.From is not null)
        {
            if (!ProbeChanges.TryReadTime(request.From, out Instant time))
            {
                errors["from"] = ["a time such as 2026-11-25T03:04:05Z, or left out for now."];
            }
            else if (time > clock.Wall + Ahead)
            {
                errors["from"] = ["a time that is not in the future."];
            }

            from = time;
        }

        if (errors.Count > 0)
        {
            return Problems.Invalid(errors);
        }

        Placing placing = await changes.PlaceAsync(key, request.Incubator!, where!, string.IsNullOrEmpty(request.Tub) ? null : request.Tub, from, user.Identity!.Name!, cancellationToken);
        return placing.Outcome switch
        {
            PlacingOutcome.Done => TypedResults.Created($"/api/probes/{Uri.EscapeDataString(key)}/placements/current", views.Find(key, user.Identity!.Name!)!),
            PlacingOutcome.UnknownProbe => Missing(key),
            PlacingOutcome.UnknownTub => Problems.Invalid("tub", "the key of a tub that stands in that incubator, or left out."),
            PlacingOutcome.UnknownIncubator => Problems.Invalid("incubator", "the key of an incubator in use."),
            _ => Problems.Invalid(
                "from", $"{InstantPattern.ExtendedIso.Format(placing.After!.Value)} or later: before that it was somewhere else."),
        };
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> TakeOut(
        string key, ProbeChanges changes, CancellationToken cancellationToken)
        => await changes.TakeOutAsync(key, cancellationToken) switch
        {
            ChangeOutcome.Done => TypedResults.NoContent(),
            ChangeOutcome.Refused => Problems.Conflict("The probe is in no incubator."),
            _ => Missing(key),
        };

    private static ProblemHttpResult Missing(string key) => Problems.NotFound($"No probe '{key}' was ever heard.");
}
