using System.Security.Claims;
using Incubation.Core.Readings;
using Incubation.Service.Http;
using Incubation.Service.People;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Probes;

/// <summary>HTTP face of calibrations.</summary>
internal static class CalibrationEndpoints
{
    private static readonly CalibrationPointsView Points = new(
        new IcePointView(CalibrationWords.IcePoint, CalibrationWords.IceUncertainty, CalibrationWords.IcePointWords),
        [
            .. CalibrationSalt.All.Select(salt => new SaltView(
                salt.Key, salt.Name,
                [.. Enumerable.Range(0, 11).Select(i => 5 * i).Select(celsius => new SaltPointView(celsius, Math.Round(salt.HumidityAt(celsius), 2), salt.Uncertainty))],
                CalibrationSalt.Source, salt.Caution)),
        ],
        CalibrationWords.Cautions,
        [.. new[] { Quantity.Temperature, Quantity.Humidity }.Select(q => new UsualDueView(q.Name, CalibrationRules.UsualMonths(q), "common practice, no source"))],
        new[]
        {
            CalibrationMethod.IceBath, CalibrationMethod.ReferenceThermometer, CalibrationMethod.ReferenceHygrometer, CalibrationMethod.SaturatedSalt,
        }.ToDictionary(CalibrationWords.Word, CalibrationWords.CautionsOf, StringComparer.Ordinal));

    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/calibration-points", () => TypedResults.Ok(Points)).WithName("getCalibrationPoints").WithTags("Calibration")
            .WithSummary("Known points to compare a probe with: the ice point and saturated salts, and what to mind.");
        RouteGroupBuilder group = api.MapGroup("/probes/{key}/calibrations").WithTags("Calibration");
        group.MapGet("/", List).WithName("listCalibrations").WithSummary("Everything entered about a probe's calibration, superseded entries included, by the time it holds from.")
            .ProducesProblem(StatusCodes.Status404NotFound);
        group.MapPut("/{id:guid}", Put).WithName("putCalibration")
            .WithSummary("Enters a calibration under an id of the sender's; it corrects everything read since its \"from\", and alarms from now on.")
            .RequireAuthorization(Policies.Keeper).ProducesProblem(StatusCodes.Status400BadRequest)
            .ProducesProblem(StatusCodes.Status404NotFound).ProducesProblem(StatusCodes.Status409Conflict);
        group.MapDelete("/{id:guid}", Withdraw).WithName("withdrawCalibration").WithSummary("Takes a calibration away; what was entered stays on record.")
            .RequireAuthorization(Policies.Keeper).ProducesProblem(StatusCodes.Status404NotFound);
    }

    private static Results<Ok<IReadOnlyList<CalibrationView>>, ProblemHttpResult> List(string key, ProbeRegister register, CalibrationBook book)
        => register.Find(key) is null
            ? Missing(key)
            : TypedResults.Ok<IReadOnlyList<CalibrationView>>([.. book.Log.Of(key).Select(entry => CalibrationView.Of(entry, book.Log.Holds(entry)))]);

    private static async Task<Results<Created<CalibrationView>, Ok<CalibrationView>, ProblemHttpResult>> Put(
        string key, Guid id, CalibrationRequest request, ClaimsPrincipal user, CalibrationDesk desk, CalibrationBook book, CancellationToken cancellationToken)
    {
        CalibrationAnswer answer = await desk.PutAsync(key, id, request, user.Identity!.Name!, cancellationToken);
        return answer.Outcome switch
        {
            CalibrationOutcome.Added => TypedResults.Created($"/api/probes/{Uri.EscapeDataString(key)}/calibrations", View()),
            CalibrationOutcome.AlreadyThere => TypedResults.Ok(View()),
            CalibrationOutcome.IdTaken => Problems.Conflict("Another calibration is on record under this id, and stays. Send this one under an id of its own."),
            CalibrationOutcome.Refused => answer.Form.Problem(),
            _ => Missing(key),
        };

        CalibrationView View() => CalibrationView.Of(answer.Entry!, book.Log.Holds(answer.Entry!)) with { Said = answer.Form.Said };
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> Withdraw(
        string key, Guid id, ClaimsPrincipal user, CalibrationDesk desk, CancellationToken cancellationToken)
        => await desk.WithdrawAsync(key, id, user.Identity!.Name!, cancellationToken) is null
            ? Problems.NotFound("The probe has no calibration of that id.")
            : TypedResults.NoContent();

    private static ProblemHttpResult Missing(string key) => Problems.NotFound($"No probe '{key}' was ever heard.");
}
