using Incubation.Core.Development;
using Incubation.Service.Clutches;
using Incubation.Service.Http;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Development;

/// <summary>HTTP face of the life strip.</summary>
internal static class StripEndpoints
{
    // Wider than any phone's pixels; more would only be drawn over each other.
    private const int MostBuckets = 2_000;

    public static void Map(RouteGroupBuilder api)
        => api.MapGet("/clutches/{key}/strip", Get).WithTags("Development").WithName("getClutchStrip")
            .WithSummary("One clutch from laying to hatch on one line: climate, candlings, alarms, stage, and when it pips.")
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);

    /// <param name="key">Key of the clutch.</param>
    /// <param name="temperature">"Cel" (default) or "degF": scale of temperatures in sentences.</param>
    /// <param name="book">The clutches.</param>
    /// <param name="strip">Draws it.</param>
    /// <param name="cancellationToken">Ends with the request.</param>
    /// <param name="buckets">How many buckets from end to end, 1 to 2000.</param>
    private static async Task<Results<Ok<StripView>, ProblemHttpResult>> Get(
        string key, string? temperature, ClutchBook book, LifeStrip strip, CancellationToken cancellationToken, int buckets = 400)
    {
        if (buckets is < 1 or > MostBuckets)
        {
            return Problems.Invalid("buckets", "a whole number from 1 to 2000.");
        }

        if (ScaleWords.Read(temperature) is not { } scale)
        {
            return Problems.Invalid("temperature", ScaleWords.Allowed);
        }

        return book.Find(key) is { } clutch
            ? TypedResults.Ok(await strip.OfAsync(clutch, buckets, scale, cancellationToken))
            : Problems.NotFound($"There is no clutch '{key}'.");
    }
}

/// <summary>The scale of temperatures in sentences as it stands in a request.</summary>
internal static class ScaleWords
{
    public const string Allowed = "Cel or degF.";

    public static TemperatureScale? Read(string? text) => text switch
    {
        null or "" or "Cel" => TemperatureScale.Celsius,
        "degF" or "[degF]" => TemperatureScale.Fahrenheit,
        _ => null,
    };
}
