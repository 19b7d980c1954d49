using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Readings;

/// <summary>HTTP face of how readings are kept: the file, how long, copies, where they come from.</summary>
internal static class KeepingEndpoints
{
    // A field that nobody fills is there all the same, so that a page can rely on it.
    private static readonly string[] Fields = ["store", "spool", "retention", "copy", "source", "clock"];

    public static void Map(RouteGroupBuilder api) =>
        api.MapGet("/readings/keeping", Keeping).WithName("getReadingsKeeping").WithTags("Readings")
            .WithSummary("How readings are kept: the file and its last check, how long, copies elsewhere, and where they come from.");

    private static Ok<Dictionary<string, object?>> Keeping(IEnumerable<IKeepingPart> parts)
    {
        Dictionary<string, object?> view = Fields.ToDictionary(field => field, _ => (object?)null, StringComparer.Ordinal);
        foreach (IKeepingPart part in parts)
        {
            view[part.Field] = part.View();
        }

        return TypedResults.Ok(view);
    }
}
