using Incubation.Core.FirstScreen;
using Incubation.Service.Http;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.FirstScreen;

/// <summary>The first screen: one request, everything on it.</summary>
internal static class FirstScreenRegistration
{
    internal static IServiceCollection AddFirstScreen(this IServiceCollection services)
        => services.AddSingleton<CallOutReach>().AddSingleton<OtherRooms>().AddSingleton<NowScreen>();

    internal static RouteGroupBuilder MapFirstScreen(this RouteGroupBuilder api)
    {
        api.MapGet("/now", Get).WithName("getNow")
            .WithSummary("The whole first screen: headline, the room as it stands, alarms, and what is left to set up.")
            .ProducesProblem(StatusCodes.Status400BadRequest);
        return api;
    }

    /// <param name="temperature">"Cel" (default) or "degF": scale of temperatures in sentences.</param>
    /// <param name="screen">Gathers it.</param>
    /// <param name="cancellationToken">Ends with the request.</param>
    internal static async Task<Results<Ok<NowView>, ProblemHttpResult>> Get(
        string? temperature, NowScreen screen, CancellationToken cancellationToken)
        => temperature switch
        {
            null or "Cel" => TypedResults.Ok(await screen.ReadAsync(TemperatureScale.Celsius, cancellationToken)),
            "degF" or "[degF]" => TypedResults.Ok(await screen.ReadAsync(TemperatureScale.Fahrenheit, cancellationToken)),
            _ => Problems.Invalid("temperature", "Cel or degF"),
        };
}
