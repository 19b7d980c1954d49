using Incubation.Core.Tint;
using Incubation.Service.Facility;
using Incubation.Service.Http;
using Incubation.Service.People;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Tint;

/// <summary>HTTP face of the words for tints.</summary>
internal static class TintEndpoints
{
    private const int KeyLength = 40;

    // Room for a sentence or two under the word.
    private const int MeaningLength = 400;

    public static void Map(RouteGroupBuilder api)
    {
        RouteGroupBuilder group = api.MapGroup("/tints").WithTags("Tint");
        group.MapGet("/", List).WithName("listTints").WithSummary("The keeper's words for the colours eggs glow, in the order they are offered.");
        group.MapPut("/{key}", Put).WithName("putTint").WithSummary("Changes a word for a tint, or adds one. Old entries keep the word they were made with.")
            .RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status409Conflict);
    }

    private static Ok<IReadOnlyList<TintView>> List(TintShelf shelf)
        => TypedResults.Ok<IReadOnlyList<TintView>>([.. shelf.Terms.Select(View)]);

    private static async Task<Results<Ok<TintView>, ProblemHttpResult>> Put(
        string key, TintRequest request, TintShelf shelf, CancellationToken cancellationToken)
    {
        Dictionary<string, string[]> errors = [];
        if (key.Length > KeyLength || !key.All(c => char.IsAsciiLetterLower(c) || char.IsAsciiDigit(c) || c == '-') || key.StartsWith('-'))
        {
            errors["key"] = [$"1 to {KeyLength} of a–z, 0–9 and hyphen."];
        }

        if (!PlainName.TryRead(request.Word, out string? word))
        {
            errors["word"] = [PlainName.Allowed];
        }
        else if (shelf.Terms.Any(term => term.Key != key && string.Equals(term.Word, word, StringComparison.OrdinalIgnoreCase)))
        {
            errors["word"] = ["a word that no other tint has: two of one word can't be told apart."];
        }

        string meaning = request.Meaning?.Trim() ?? "";
        if (meaning.Length > MeaningLength)
        {
            errors["meaning"] = [$"at most {MeaningLength} characters."];
        }

        if (!TintTerms.IsColour(request.Colour))
        {
            errors["colour"] = ["#rrggbb, such as #e58a94."];
        }

        if (errors.Count > 0)
        {
            return Problems.Invalid(errors);
        }

        return await shelf.PutAsync(new TintTerm(key, word!, meaning, request.Colour!.ToLowerInvariant()), cancellationToken)
            ? TypedResults.Ok(View(shelf.Terms.First(term => term.Key == key), shelf.Terms.TakeWhile(term => term.Key != key).Count()))
            : Problems.Conflict($"There are {TintShelf.MostTerms} words for tints already. Change one of them.");
    }

    private static TintView View(TintTerm term, int position) => new(term.Key, term.Word, term.Meaning, term.Colour, position);
}
