using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Hosting;

/// <summary>Whether the service works (<c>/healthz</c>) and whether it has finished starting (<c>/readyz</c>). Both say so to anyone.</summary>
internal static class HealthEndpoints
{
    internal static IEndpointRouteBuilder MapHealth(this IEndpointRouteBuilder app)
    {
        app.MapGet("/healthz", Health).WithName("getHealth").WithSummary("Every worker and when it last showed progress; 503 when one fails.").AllowAnonymous()
            .Produces<HealthView>().Produces<HealthView>(StatusCodes.Status503ServiceUnavailable);
        app.MapGet("/readyz", Ready).WithName("getReadiness").WithSummary("200 once the service listens, else 503 and what it waits for.").AllowAnonymous()
            .Produces<ReadinessView>().Produces<ReadinessView>(StatusCodes.Status503ServiceUnavailable);
        return app;
    }

    internal static JsonHttpResult<HealthView> Health(WorkerBoard board)
    {
        WorkerHealth[] workers = [.. board.Pulses.Select(pulse => pulse.Health()).OrderBy(worker => worker.Name, StringComparer.Ordinal)];
        bool well = workers.All(worker => worker.IsWell);
        return TypedResults.Json(new HealthView(well ? "works" : "fails", workers),
            statusCode: well ? StatusCodes.Status200OK : StatusCodes.Status503ServiceUnavailable);
    }

    internal static JsonHttpResult<ReadinessView> Ready(StartupSequence start)
        => TypedResults.Json(new ReadinessView(start.WaitingFor is null ? "ready" : "not ready", start.WaitingFor),
            statusCode: start.WaitingFor is null ? StatusCodes.Status200OK : StatusCodes.Status503ServiceUnavailable);
}

/// <param name="Status">"works" or "fails".</param>
/// <param name="Workers">Every worker, by name.</param>
internal sealed record HealthView(string Status, IReadOnlyList<WorkerHealth> Workers);

/// <param name="Status">"ready" or "not ready".</param>
/// <param name="WaitingFor">What the start waits for, or null.</param>
internal sealed record ReadinessView(string Status, string? WaitingFor);
