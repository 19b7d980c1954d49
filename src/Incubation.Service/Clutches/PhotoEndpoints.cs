using System.Globalization;
using Incubation.Core;
using Incubation.Service.Http;
using Incubation.Service.People;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Mvc;

namespace Incubation.Service.Clutches;

/// <summary>HTTP face of the photo behind the egg plan.</summary>
internal static class PhotoEndpoints
{
    private static readonly string TooLarge = string.Create(
        CultureInfo.InvariantCulture, $"A photo has at most {Limits.PhotoBytes / 1024 / 1024} MB: take it smaller, or let the page make it smaller.");

    public static void Map(RouteGroupBuilder api)
    {
        RouteGroupBuilder group = api.MapGroup("/clutches/{key}/photo").WithTags("Clutches");
        group.MapGet("/", Get).WithName("getTubPhoto").WithSummary("The tub from above, behind the egg plan.")
            .Produces(StatusCodes.Status200OK, contentType: "image/jpeg", additionalContentTypes: "image/png")
            .ProducesProblem(StatusCodes.Status404NotFound);
        group.MapPut("/", Put).WithName("putTubPhoto").WithSummary("Puts a photo of the tub behind the egg plan; JPEG or PNG, at most 3 MB.")
            .RequireAuthorization(Policies.Keeper)
            // One byte more than is allowed, so that too large is said in our words.
            .WithMetadata(new RequestSizeLimitAttribute(Limits.PhotoBytes + 1))
            .ProducesProblem(StatusCodes.Status404NotFound).ProducesProblem(StatusCodes.Status413PayloadTooLarge)
            .ProducesProblem(StatusCodes.Status415UnsupportedMediaType).ProducesProblem(StatusCodes.Status503ServiceUnavailable);
        group.MapDelete("/", Remove).WithName("removeTubPhoto").WithSummary("Takes the photo away; the plan stays.")
            .RequireAuthorization(Policies.Keeper).ProducesProblem(StatusCodes.Status404NotFound);
    }

    private static Results<PhysicalFileHttpResult, ProblemHttpResult> Get(string key, ClutchBook book, TubPhotos photos)
        => book.Find(key) is not { } clutch ? ClutchEndpoints.Missing(key)
            : photos.Find(clutch.Id) is { } photo ? TypedResults.PhysicalFile(photo.Path, Photo.MediaType(photo.Kind))
            : Problems.NotFound($"There is no photo of {clutch.Clutch.Label} yet.");

    private static async Task<Results<NoContent, ProblemHttpResult>> Put(
        string key, HttpRequest request, ClutchBook book, TubPhotos photos, ILogger<TubPhotos> log, CancellationToken cancellationToken)
    {
        if (book.Find(key) is not { } clutch)
        {
            return ClutchEndpoints.Missing(key);
        }

        byte[] file;
        try
        {
            using var body = new MemoryStream();
            await request.Body.CopyToAsync(body, cancellationToken);
            file = body.ToArray();
        }
        catch (BadHttpRequestException large) when (large.StatusCode == StatusCodes.Status413PayloadTooLarge)
        {
            return Problems.Plain(StatusCodes.Status413PayloadTooLarge, TooLarge);
        }

        if (file.Length > Limits.PhotoBytes)
        {
            return Problems.Plain(StatusCodes.Status413PayloadTooLarge, TooLarge);
        }

        // What it is called does not count; how it begins does.
        if (Photo.KindOf(file) is not { } kind)
        {
            return Problems.Plain(StatusCodes.Status415UnsupportedMediaType, "A photo is a JPEG or a PNG; this is neither.");
        }

        if (Photo.WithoutNotes(file, kind) is not { } clean)
        {
            return Problems.Plain(StatusCodes.Status415UnsupportedMediaType, "The photo is cut off or damaged: take it again, or send it again.");
        }

        try
        {
            await photos.PutAsync(clutch.Id, kind, clean, cancellationToken);
            return TypedResults.NoContent();
        }
        catch (IOException full)
        {
            log.LogError(full, "The photo of {Clutch} could not be kept", key);
            return Problems.Plain(StatusCodes.Status503ServiceUnavailable, "The disk would not take the photo; the one before is still there. Make room, then send it again.");
        }
    }

    private static Results<NoContent, ProblemHttpResult> Remove(string key, ClutchBook book, TubPhotos photos)
        => book.Find(key) is not { } clutch ? ClutchEndpoints.Missing(key)
            : photos.Remove(clutch.Id) ? TypedResults.NoContent()
            : Problems.NotFound($"There is no photo of {clutch.Clutch.Label}.");
}
