using Incubation.Core.Readings;
using Incubation.Service.Hosting;
using Incubation.Service.Http;
using Incubation.Service.Probes;
using Microsoft.AspNetCore.Http.HttpResults;
using NodaTime;

namespace Incubation.Service.Readings;

/// <summary>HTTP face of the export of readings.</summary>
internal static class ExportEndpoints
{
    private const string TimeAllowed = "a time such as 2026-11-25T03:04:05Z.";

    // A season and the one before it.
    private static readonly Duration Longest = Duration.FromDays(800);

    public static void Map(RouteGroupBuilder api)
        => api.MapGet("/readings/export", Export).WithName("exportReadings").WithTags("Readings")
            .WithSummary("Readings of a probe, or of the probes in an incubator while they were there, as comma-separated values (RFC 4180). The last 24 hours and every quantity unless told.")
            .Produces<string>(contentType: "text/csv")
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);

    private static async Task<Results<PushStreamHttpResult, ProblemHttpResult>> Export(
        string? probe, string? incubator, string? quantity, string? from, string? to, ReadingExport export, ServiceClock clock, HttpContext http,
        CancellationToken cancellationToken)
    {
        Dictionary<string, string[]> errors = [];
        Instant end = clock.Wall;
        if (to is not null && !ProbeChanges.TryReadTime(to, out end))
        {
            errors["to"] = [TimeAllowed];
        }

        Instant begin = end - Duration.FromHours(24);
        if (from is not null && !ProbeChanges.TryReadTime(from, out begin))
        {
            errors["from"] = [TimeAllowed];
        }

        if (string.IsNullOrEmpty(probe) == string.IsNullOrEmpty(incubator))
        {
            errors["probe"] = ["the key of a probe, or an \"incubator\", and not both."];
        }

        if (quantity is not null && !Quantity.IsName(quantity))
        {
            errors["quantity"] = ["a name such as temperature: a–z, 0–9 and hyphen."];
        }

        if (errors.Count == 0 && (begin >= end || end - begin > Longest))
        {
            errors["from"] = [$"a time before \"to\", by at most {Longest.Days} days."];
        }

        if (errors.Count > 0)
        {
            return Problems.Invalid(errors);
        }

        Quantity? only = quantity is null ? null : new Quantity(quantity);
        IReadOnlyList<ExportPart>? parts = string.IsNullOrEmpty(probe)
            ? await export.OfIncubatorAsync(incubator!, only, begin, end, cancellationToken)
            : await export.OfProbeAsync(probe, only, begin, end, cancellationToken);
        if (parts is null)
        {
            return Problems.NotFound(string.IsNullOrEmpty(probe) ? $"There is no incubator '{incubator}'." : $"There is no probe '{probe}'.");
        }

        http.Response.Headers.CacheControl = "no-store";
        return TypedResults.Stream(body => export.WriteAsync(body, parts, cancellationToken), "text/csv; charset=utf-8; header=present", "readings.csv");
    }
}
