using System.Security.Claims;
using Incubation.Service.Hosting;
using Incubation.Service.Http;
using Incubation.Service.People;
using Incubation.Service.Probes;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Incubation.Service.Facility;

/// <summary>HTTP face of trying an incubator out before eggs go in.</summary>
internal static class RunInEndpoints
{
    // Readings from before an incubator was thought of are no run-in; a week ago it may have been forgotten to enter it.
    private static readonly Duration Back = Duration.FromDays(7), Ahead = Duration.FromMinutes(1);

    public static void Map(RouteGroupBuilder api)
    {
        RouteGroupBuilder group = api.MapGroup("/incubators/{key}/run-ins").WithTags("Incubators");
        group.MapGet("/", List).WithName("listRunIns").WithSummary("How an incubator did when it was tried out, the newest first.")
            .ProducesProblem(StatusCodes.Status404NotFound);
        group.MapPost("/", Begin).WithName("beginRunIn").WithSummary("Begins to try an incubator out for 48 hours.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound).ProducesProblem(StatusCodes.Status409Conflict);
        group.MapDelete("/current", End).WithName("endRunIn").WithSummary("Ends the one that is running before its time.")
            .RequireAuthorization(Policies.Keeper).ProducesProblem(StatusCodes.Status404NotFound);
    }

    private static async Task<Results<Ok<IReadOnlyList<RunInView>>, ProblemHttpResult>> List(
        string key, IFacility facility, RunIns runIns, CancellationToken cancellationToken)
        => IsInUse(facility, key) ? TypedResults.Ok(await runIns.ListAsync(key, cancellationToken)) : Missing(key);

    private static async Task<Results<Created<RunInView>, ProblemHttpResult>> Begin(
        string key, RunInRequest? request, ClaimsPrincipal user, IFacility facility, RunIns runIns, ServiceClock clock, CancellationToken cancellationToken)
    {
        if (!IsInUse(facility, key))
        {
            return Missing(key);
        }

        Instant? from = null;
        if (request?.From is { Length: > 0 } text)
        {
            if (!ProbeChanges.TryReadTime(text, out Instant time) || time > clock.Wall + Ahead || time < clock.Wall - Back)
            {
                return Problems.Invalid("from", "a time of the last seven days such as 2026-11-25T03:04:05Z, or left out for now.");
            }

            from = Instant.Min(time, clock.Wall);
        }

        RunInView? begun = await runIns.BeginAsync(key, from, user.Identity!.Name!, cancellationToken);
        return begun is null
            ? Problems.Conflict("It is being tried out already. End that one first to begin anew.")
            : TypedResults.Created($"/api/incubators/{key}/run-ins", begun);
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> End(
        string key, IFacility facility, RunIns runIns, CancellationToken cancellationToken)
        => !IsInUse(facility, key) ? Missing(key)
            : await runIns.EndAsync(key, cancellationToken) ? TypedResults.NoContent()
            : Problems.NotFound($"Incubator '{key}' is not being tried out.");

    private static bool IsInUse(IFacility facility, string key) => facility.Current.Incubators.Any(i => i.Key == key);

    private static ProblemHttpResult Missing(string key) => Problems.NotFound($"There is no incubator '{key}' in use.");
}
