using Incubation.Core.FirstScreen;
using Incubation.Service.Http;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Air;

/// <summary>What the air in an incubator does to eggs and lids.</summary>
internal static class AirRegistration
{
    internal static IServiceCollection AddAir(this IServiceCollection services) => services.AddSingleton<AirReader>();

    internal static RouteGroupBuilder MapAir(this RouteGroupBuilder api)
    {
        api.MapGet("/incubators/{key}/air", Get).WithName("getAir").WithTags("Air")
            .WithSummary("Dew point, absolute humidity and vapour pressure deficit in an incubator now, with what they may be off by, and below which temperature things drip.")
            .ProducesProblem(StatusCodes.Status400BadRequest).ProducesProblem(StatusCodes.Status404NotFound);
        return api;
    }

    /// <param name="key">Key of the incubator.</param>
    /// <param name="probe">Key of the hygrometer; the one in the air that drips first unless given.</param>
    /// <param name="temperature">"Cel" (default) or "degF": scale of temperatures in sentences.</param>
    /// <param name="reader">Works it out.</param>
    private static Results<Ok<AirView>, ProblemHttpResult> Get(string key, string? probe, string? temperature, AirReader reader)
        => Scale(temperature) is not { } scale ? Problems.Invalid("temperature", "Cel or degF.")
            : reader.Read(key, probe, scale) is { } view ? TypedResults.Ok(view)
            : Problems.NotFound(probe is null ? $"There is no incubator '{key}' in use." : $"There is no incubator '{key}' in use, or no probe '{probe}' in it.");

    private static TemperatureScale? Scale(string? text) => text switch
    {
        null or "Cel" => TemperatureScale.Celsius,
        "degF" or "[degF]" => TemperatureScale.Fahrenheit,
        _ => null,
    };
}
