using System.Globalization;
using System.Security.Claims;
using Incubation.Core;
using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using Incubation.Service.Http;
using Incubation.Service.People;
using Incubation.Service.Probes;
using Incubation.Service.Readings;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Facility;

/// <summary>HTTP face of incubators and their bands.</summary>
internal static class FacilityEndpoints
{
    private static readonly string PositionAllowed = string.Create(
        CultureInfo.InvariantCulture, $"a whole number from 0 to {Limits.Incubators - 1}.");

    public static void Map(RouteGroupBuilder api)
    {
        RouteGroupBuilder group = api.MapGroup("/incubators").WithTags("Incubators");
        group.MapGet("/", List).WithName("listIncubators").WithSummary("Incubators in use, as they stand from the left.");
        group.MapPost("/", Add).WithName("addIncubator").WithSummary("Puts an incubator into use, with the usual bands.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status409Conflict);
        group.MapGet("/{key}", Get).WithName("getIncubator").WithSummary("One incubator with its bands and probes.")
            .ProducesProblem(StatusCodes.Status404NotFound);
        group.MapPut("/{key}", Update).WithName("updateIncubator").WithSummary("Renames or moves an incubator.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
        group.MapDelete("/{key}", Retire).WithName("retireIncubator").WithSummary("Takes an incubator out of use; its history stays.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status404NotFound).ProducesProblem(StatusCodes.Status409Conflict);
        group.MapPut("/{key}/bands/{quantity}", SetBand).WithName("setBand").WithSummary("Sets the band of one quantity.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
    }

    private static Ok<IReadOnlyList<IncubatorView>> List(IFacility facility)
        => TypedResults.Ok<IReadOnlyList<IncubatorView>>(
            [.. facility.Current.Incubators.Select(i => new IncubatorView(i.Key, i.Name, i.Position))]);

    private static async Task<Results<Created<IncubatorView>, ProblemHttpResult>> Add(
        IncubatorRequest request, ClaimsPrincipal user, FacilityChanges changes, CancellationToken cancellationToken)
    {
        if (Wrong(request, out string name) is { } problem)
        {
            return problem;
        }

        IncubatorView? added = await changes.AddIncubatorAsync(name, request.Position, user.Identity!.Name!, cancellationToken);
        return added is null
            ? Problems.Conflict(string.Create(
                CultureInfo.InvariantCulture, $"There are {Limits.Incubators} incubators in use already. Retire one first."))
            : TypedResults.Created($"/api/incubators/{added.Key}", added);
    }

    private static Results<Ok<IncubatorDetail>, ProblemHttpResult> Get(
        string key, ClaimsPrincipal user, IFacility facility, ProbeViews probes)
    {
        FacilitySnapshot now = facility.Current;
        IncubatorPlace? place = now.Incubators.FirstOrDefault(i => i.Key == key);
        if (place is null)
        {
            return Missing(key);
        }

        Dictionary<string, BandView> bands = [];
        foreach (Band band in now.Bands.Values.Where(b => b.Incubator == key).OrderBy(b => b.Quantity.Name, StringComparer.Ordinal))
        {
            bands[band.Quantity.Name] = BandView.Of(band);
        }

        return TypedResults.Ok(new IncubatorDetail(place.Key, place.Name, place.Position, bands, probes.In(key, user.Identity!.Name!)));
    }

    private static async Task<Results<Ok<IncubatorView>, ProblemHttpResult>> Update(
        string key, IncubatorRequest request, FacilityChanges changes, CancellationToken cancellationToken)
    {
        if (Wrong(request, out string name) is { } problem)
        {
            return problem;
        }

        IncubatorView? updated = await changes.UpdateIncubatorAsync(key, name, request.Position, cancellationToken);
        return updated is null ? Missing(key) : TypedResults.Ok(updated);
    }

    private static async Task<Results<NoContent, ProblemHttpResult>> Retire(
        string key, FacilityChanges changes, CancellationToken cancellationToken)
        => await changes.RetireIncubatorAsync(key, cancellationToken) switch
        {
            ChangeOutcome.Done => TypedResults.NoContent(),
            ChangeOutcome.Refused => Problems.Conflict("Probes or clutches are still in it. Take them out or place them elsewhere first."),
            _ => Missing(key),
        };

    private static async Task<Results<Ok<BandView>, ProblemHttpResult>> SetBand(
        string key, string quantity, BandRequest request, ClaimsPrincipal user, IFacility facility, ILatestReadings latest,
        FacilityChanges changes, CancellationToken cancellationToken)
    {
        Quantity what = new(quantity);
        // A misspelt quantity would be a band that never calls anyone.
        bool known = what == Quantity.Temperature || what == Quantity.Humidity
            || facility.Current.Bands.ContainsKey((key, what)) || latest.Series.Any(s => s.Quantity == what);
        if (!known)
        {
            return Problems.Invalid("quantity", "temperature, humidity, or another that a probe has sent.");
        }

        BandView? band = BandCheck.Check(what, request, out Dictionary<string, string[]> errors);
        if (band is null)
        {
            return Problems.Invalid(errors);
        }

        return await changes.SetBandAsync(key, what, band, user.Identity!.Name!, cancellationToken)
            ? TypedResults.Ok(band)
            : Missing(key);
    }

    private static ProblemHttpResult? Wrong(IncubatorRequest request, out string name)
    {
        Dictionary<string, string[]> errors = [];
        if (!PlainName.TryRead(request.Name, out string? read))
        {
            errors["name"] = [PlainName.Allowed];
        }

        if (request.Position is < 0 or >= Limits.Incubators)
        {
            errors["position"] = [PositionAllowed];
        }

        name = read ?? "";
        return errors.Count > 0 ? Problems.Invalid(errors) : null;
    }

    private static ProblemHttpResult Missing(string key) => Problems.NotFound($"There is no incubator '{key}' in use.");
}
