using System.Security.Claims;
using Incubation.Core.Genetics;
using Incubation.Service.Clutches;
using Incubation.Service.Facility;
using Incubation.Service.Http;
using Incubation.Service.People;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Genetics;

/// <summary>HTTP face of traits and pairings.</summary>
internal static class TraitEndpoints
{
    // There are no more words for tints than this.
    private const int MostCarrierTints = 20;
    private const string InheritanceAllowed = "recessive, dominant or incomplete dominant.";
    private const string CopiesAllowed = "0, 1 or 2 copies";

    public static void Map(RouteGroupBuilder api)
    {
        RouteGroupBuilder group = api.MapGroup("/traits").WithTags("Genetics");
        group.MapGet("/", List).WithName("listTraits").WithSummary("The traits the keeper follows, and how often their tints were right.");
        group.MapPost("/", Add).WithName("addTrait").WithSummary("Names a trait, how it shows, and the tints said to go with carrying it.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status409Conflict);
        group.MapPut("/{key}", Change).WithName("changeTrait").WithSummary("Changes a trait; its key stays.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
        api.MapPut("/clutches/{key}/pairings/{trait}", Pair).WithTags("Genetics").WithName("putPairing")
            .WithSummary("Copies of a trait that dam and sire have; the newest entry holds.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
    }

    private static async Task<Ok<IReadOnlyList<TraitView>>> List(TraitShelf shelf, ClutchGenetics genetics, CancellationToken cancellationToken)
    {
        TraitPage page = await shelf.ReadAsync(cancellationToken);
        return TypedResults.Ok<IReadOnlyList<TraitView>>([.. page.Traits.Select(kept => View(kept, genetics.MarkerOf(kept, page)))]);
    }

    private static async Task<Results<Created<TraitView>, ProblemHttpResult>> Add(
        TraitRequest request, ClaimsPrincipal user, TraitShelf shelf, ClutchGenetics genetics, ITintWords tints, CancellationToken cancellationToken)
    {
        if (await CheckAsync(null, request, shelf, tints, cancellationToken) is { } problem)
        {
            return problem;
        }

        KeptTrait? added = await shelf.AddAsync(
            request.Name!.Trim(), GeneticsWords.InheritanceOf(request.Inheritance)!.Value, request.CarrierTints ?? [], user.Identity!.Name!, cancellationToken);
        return added is null
            ? Problems.Conflict($"There are {TraitShelf.MostTraits} traits already.")
            : TypedResults.Created(
                $"/api/traits/{added.Trait.Key}", View(added, genetics.MarkerOf(added, await shelf.ReadAsync(cancellationToken))));
    }

    private static async Task<Results<Ok<TraitView>, ProblemHttpResult>> Change(
        string key, TraitRequest request, ClaimsPrincipal user, TraitShelf shelf, ClutchGenetics genetics, ITintWords tints,
        CancellationToken cancellationToken)
    {
        if (await CheckAsync(key, request, shelf, tints, cancellationToken) is { } problem)
        {
            return problem;
        }

        KeptTrait? changed = await shelf.ChangeAsync(
            key, request.Name!.Trim(), GeneticsWords.InheritanceOf(request.Inheritance)!.Value, request.CarrierTints ?? [], user.Identity!.Name!,
            cancellationToken);
        return changed is null
            ? Problems.NotFound($"There is no trait '{key}'.")
            : TypedResults.Ok(View(changed, genetics.MarkerOf(changed, await shelf.ReadAsync(cancellationToken))));
    }

    private static async Task<Results<Ok<PairingView>, ProblemHttpResult>> Pair(
        string key, string trait, PairingRequest request, ClaimsPrincipal user, ClutchBook book, TraitShelf shelf, IClutchGenetics genetics,
        CancellationToken cancellationToken)
    {
        if (book.Find(key) is not { } clutch)
        {
            return Problems.NotFound($"There is no clutch '{key}'.");
        }

        if ((await shelf.ReadAsync(cancellationToken)).Find(trait) is null)
        {
            return Problems.NotFound($"There is no trait '{trait}'. Name it first.");
        }

        Dictionary<string, string[]> errors = [];
        if (request.DamCopies is not (>= 0 and <= 2))
        {
            errors["damCopies"] = [$"{CopiesAllowed}."];
        }

        if (request.SireCopies is not (null or (>= 0 and <= 2)))
        {
            errors["sireCopies"] = [$"{CopiesAllowed}; leave it out when not known, or when there was no sire."];
        }

        if (errors.Count > 0)
        {
            return Problems.Invalid(errors);
        }

        await shelf.PairAsync(clutch.Id, trait, request.DamCopies!.Value, request.SireCopies, user.Identity!.Name!, cancellationToken);
        IReadOnlyList<PairingView> all = await genetics.PairingsAsync(book.Find(key) ?? clutch, cancellationToken);
        return TypedResults.Ok(all.First(view => view.Trait == trait));
    }

    private static async Task<ProblemHttpResult?> CheckAsync(
        string? key, TraitRequest request, TraitShelf shelf, ITintWords tints, CancellationToken cancellationToken)
    {
        Dictionary<string, string[]> errors = [];
        if (!PlainName.TryRead(request.Name, out string? name))
        {
            errors["name"] = [PlainName.Allowed];
        }
        else if ((await shelf.ReadAsync(cancellationToken)).Traits.Any(kept =>
            kept.Trait.Key != key && string.Equals(kept.Trait.Name, name, StringComparison.OrdinalIgnoreCase)))
        {
            errors["name"] = ["a name that no other trait has."];
        }

        if (GeneticsWords.InheritanceOf(request.Inheritance) is null)
        {
            errors["inheritance"] = [InheritanceAllowed];
        }

        IReadOnlyList<string> carriers = request.CarrierTints ?? [];
        if (carriers.Count > MostCarrierTints || carriers.Distinct().Count() != carriers.Count
            || carriers.Any(tint => !tints.Terms.Any(term => term.Key == tint)))
        {
            errors["carrierTints"] = [$"keys of tints, each once: {string.Join(", ", tints.Terms.Select(term => term.Key))}."];
        }

        return errors.Count > 0 ? Problems.Invalid(errors) : null;
    }

    private static TraitView View(KeptTrait kept, MarkerView? marker)
        => new(kept.Trait.Key, kept.Trait.Name, GeneticsWords.Word(kept.Trait.Inheritance), kept.CarrierTints, marker);
}
