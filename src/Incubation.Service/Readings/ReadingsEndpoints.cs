using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Readings;

/// <summary>HTTP face of the intake: the messages that could not be read.</summary>
internal static class ReadingsEndpoints
{
    public static void Map(RouteGroupBuilder api)
        => api.MapGet("/rejected-messages", Rejected).WithName("listRejectedMessages").WithTags("Readings")
            .WithSummary("Messages that could not be read, by topic and reason, newest first.");

    private static Ok<IReadOnlyList<RejectedMessage>> Rejected(RejectedMessages rejected) => TypedResults.Ok(rejected.List());
}
