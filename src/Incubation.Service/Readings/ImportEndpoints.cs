using System.Globalization;
using System.Security.Claims;
using Incubation.Core;
using Incubation.Core.Readings;
using Incubation.Service.Facility;
using Incubation.Service.Hosting;
using Incubation.Service.Http;
using Incubation.Service.People;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;
using Microsoft.Extensions.Options;

namespace Incubation.Service.Readings;

/// <summary>HTTP face of bringing in files of readings.</summary>
internal static class ImportEndpoints
{
    public static void Map(RouteGroupBuilder api)
    {
        RouteGroupBuilder group = api.MapGroup("/imports").WithTags("Readings").RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status404NotFound);
        group.MapGet("/", List).WithName("listImports").WithSummary("Files of readings that were brought in, the newest first.");
        group.MapPost("/", Take).WithName("takeImport").WithSummary("Takes a file of comma-separated values as the body, and guesses how it is to be read. Nothing is stored yet.")
            // One byte more than is allowed, so that too large is said in our words.
            .WithMetadata(new RequestSizeLimitAttribute(Limits.ImportBytes + 1))
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status409Conflict).ProducesProblem(StatusCodes.Status413PayloadTooLarge)
            .ProducesProblem(StatusCodes.Status415UnsupportedMediaType).ProducesProblem(StatusCodes.Status507InsufficientStorage);
        group.MapGet("/{id:guid}", Get).WithName("getImport").WithSummary("An import: the columns, what is open, how far it is, and what was refused. With separator as it would be guessed by that.")
            .ProducesProblem(StatusCodes.Status400BadRequest);
        group.MapDelete("/{id:guid}", Delete).WithName("deleteImport").WithSummary("Deletes the file; what was stored of it stays.")
            .ProducesProblem(StatusCodes.Status409Conflict);
        group.MapPut("/{id:guid}/columns", Plan).WithName("putImportColumns").WithSummary("Says how the file is to be read: what each column holds, and which probes the names in it are.")
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status409Conflict);
        group.MapPost("/{id:guid}/dry-runs", (Guid id, ImportDesk desk, CancellationToken cancellationToken) => Begin(id, dry: true, desk, cancellationToken))
            .WithName("tryImport").WithSummary("Reads the whole file without storing anything.").ProducesProblem(StatusCodes.Status409Conflict);
        group.MapPost("/{id:guid}/runs", (Guid id, ImportDesk desk, CancellationToken cancellationToken) => Begin(id, dry: false, desk, cancellationToken))
            .WithName("runImport").WithSummary("Stores the readings of the file, or goes on with that where it stopped.").ProducesProblem(StatusCodes.Status409Conflict);
        group.MapPost("/{id:guid}/stops", Stop).WithName("stopImport").WithSummary("Stops what runs; everything up to there is stored and stays.");
        group.MapGet("/{id:guid}/report", Report).WithName("getImportReport").WithSummary("Every line that was refused, with the reason, as comma-separated values; of=dry-run or of=run.")
            .Produces<string>(contentType: "text/csv").ProducesProblem(StatusCodes.Status400BadRequest);
    }

    private static async Task<Ok<IReadOnlyList<ImportLine>>> List(ImportDesk desk, CancellationToken cancellationToken)
        => TypedResults.Ok(await desk.ListAsync(cancellationToken));

    private static async Task<Results<Created<ImportView>, ProblemHttpResult>> Take(
        string? fileName, HttpRequest request, ClaimsPrincipal user, ImportDesk desk, ILogger<ImportDesk> log, CancellationToken cancellationToken)
    {
        string last = fileName?[(fileName.LastIndexOfAny(['/', '\\']) + 1)..] ?? "";
        if (!PlainName.TryRead(last.Length > Limits.NameLength ? last[..Limits.NameLength] : last, out string? name))
        {
            return Problems.Invalid("fileName", PlainName.Allowed);
        }

        try
        {
            ImportView view = await desk.TakeAsync(name, request.Body, request.ContentLength, user.Identity!.Name!, cancellationToken);
            return TypedResults.Created($"/api/imports/{view.Id}", view);
        }
        catch (ImportRefusedException refused)
        {
            return Problems.Plain(refused.Status, refused.Message);
        }
        catch (IOException full) when (full is not BadHttpRequestException && !cancellationToken.IsCancellationRequested)
        {
            log.LogError(full, "A file of readings could not be taken");
            return Problems.Plain(StatusCodes.Status507InsufficientStorage, "The disk would not take the file. Make room, then send it again.");
        }
    }

    private static async Task<Results<Ok<ImportView>, ProblemHttpResult>> Get(Guid id, string? separator, ImportDesk desk, CancellationToken cancellationToken)
    {
        ImportSeparator said = default;
        return separator is null || (Enum.TryParse(separator, ignoreCase: true, out said) && Enum.IsDefined(said) && !char.IsDigit(separator[0]))
            ? Answer(id, await desk.ViewAsync(id, cancellationToken, separator is null ? null : said))
            : Problems.Invalid("separator", "comma, semicolon or tab.");
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> Delete(Guid id, ImportDesk desk, CancellationToken cancellationToken)
    {
        try
        {
            return await desk.DeleteAsync(id, cancellationToken) ? TypedResults.NoContent() : Missing(id);
        }
        catch (ImportRefusedException refused)
        {
            return Problems.Plain(refused.Status, refused.Message);
        }
    }

    private static async Task<Results<Ok<ImportView>, ProblemHttpResult>> Plan(
        Guid id, ImportPlanRequest request, ImportDesk desk, IOptions<IncubationOptions> options, CancellationToken cancellationToken)
    {
        if (request.Columns?.All(column => column is not null) != true || request.Probes?.All(probe => probe?.Name is not null) == false)
        {
            return Problems.Invalid("columns", "a list with what each column holds, from the left.");
        }

        ImportPlan plan = new(
            request.Separator, request.DecimalComma, request.Header, request.Encoding, request.TimeForm, request.RepeatedHour,
            string.IsNullOrEmpty(request.Zone) ? options.Value.Facility.Zone : request.Zone,
            [.. request.Columns.Select(column => column! with { Probe = Blank(column.Probe), Quantity = Blank(column.Quantity), Unit = Blank(column.Unit) })],
            [.. (request.Probes ?? []).Select(probe => new ImportProbe(probe!.Name!, probe.Key?.Trim() ?? ""))]);
        IReadOnlyDictionary<string, string[]> problems = ImportPlanCheck.Problems(plan);
        if (problems.Count > 0)
        {
            return Problems.Invalid(problems);
        }

        return await TryAsync(id, () => desk.PlanAsync(id, plan, cancellationToken));
    }

    private static Task<Results<Ok<ImportView>, ProblemHttpResult>> Begin(Guid id, bool dry, ImportDesk desk, CancellationToken cancellationToken)
        => TryAsync(id, () => desk.BeginAsync(id, dry, cancellationToken));

    private static Task<Results<Ok<ImportView>, ProblemHttpResult>> Stop(Guid id, ImportDesk desk, CancellationToken cancellationToken)
        => TryAsync(id, () => desk.StopAsync(id, cancellationToken));

    private static async Task<Results<PhysicalFileHttpResult, ProblemHttpResult>> Report(
        Guid id, string? of, ImportDesk desk, ImportFiles files, CancellationToken cancellationToken)
    {
        if (of is not (null or "run" or "dry-run"))
        {
            return Problems.Invalid("of", "dry-run or run.");
        }

        string path = files.ReportOf(id, dry: of == "dry-run");
        return await desk.ViewAsync(id, cancellationToken) is not { } view ? Missing(id)
            : !File.Exists(path) ? Problems.NotFound("There is no report yet, or it was deleted with the file.")
            : TypedResults.PhysicalFile(path, "text/csv; charset=utf-8; header=present",
                string.Create(CultureInfo.InvariantCulture, $"refused lines of {view.FileName}.csv"));
    }

    private static async Task<Results<Ok<ImportView>, ProblemHttpResult>> TryAsync(Guid id, Func<Task<ImportView?>> change)
    {
        try
        {
            return Answer(id, await change());
        }
        catch (ImportRefusedException refused)
        {
            return Problems.Plain(refused.Status, refused.Message);
        }
    }

    private static Results<Ok<ImportView>, ProblemHttpResult> Answer(Guid id, ImportView? view) => view is null ? Missing(id) : TypedResults.Ok(view);

    private static string? Blank(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();

    private static ProblemHttpResult Missing(Guid id) => Problems.NotFound($"There is no import '{id}'.");
}
