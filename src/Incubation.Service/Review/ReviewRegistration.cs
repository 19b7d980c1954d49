using Incubation.Service.Clutches;
using Incubation.Service.Development;
using Incubation.Service.Http;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Review;

/// <summary>What a clutch went through, beside a good one.</summary>
internal static class ReviewRegistration
{
    internal static IServiceCollection AddReview(this IServiceCollection services)
        => services.AddSingleton<ClutchAlarms>().AddSingleton<ClutchReviews>();

    internal static RouteGroupBuilder MapReview(this RouteGroupBuilder api)
    {
        api.MapGet("/clutches/{key}/review", Get).WithTags("Review").WithName("getClutchReview")
            .WithSummary("Every stretch out of band, the gaps, who was told, and what came out; beside another clutch if asked.")
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
        return api;
    }

    /// <param name="key">Key of the clutch.</param>
    /// <param name="against">Key of a clutch of the keeper's choice to hold it against, or none.</param>
    /// <param name="temperature">"Cel" (default) or "degF": scale of temperatures in sentences.</param>
    /// <param name="book">The clutches.</param>
    /// <param name="reviews">Makes it.</param>
    /// <param name="cancellationToken">Ends with the request.</param>
    private static async Task<Results<Ok<ReviewView>, ProblemHttpResult>> Get(
        string key, string? against, string? temperature, ClutchBook book, ClutchReviews reviews, CancellationToken cancellationToken)
    {
        if (ScaleWords.Read(temperature) is not { } scale)
        {
            return Problems.Invalid("temperature", ScaleWords.Allowed);
        }

        if (book.Find(key) is not { } clutch)
        {
            return Problems.NotFound($"There is no clutch '{key}'.");
        }

        BookedClutch? other = string.IsNullOrEmpty(against) ? null : book.Find(against);
        if (!string.IsNullOrEmpty(against) && (other is null || other.Key == key))
        {
            return Problems.Invalid("against", "the key of another clutch, or leave it out.");
        }

        return TypedResults.Ok(await reviews.OfAsync(clutch, other, scale, cancellationToken));
    }
}
