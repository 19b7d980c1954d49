using System.IO.Compression;
using System.Text.Json;
using System.Text.Json.Serialization;
using Incubation.Core;
using Incubation.Service.People;
using Microsoft.AspNetCore.ResponseCompression;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using NodaTime;
using NodaTime.Serialization.SystemTextJson;

namespace Incubation.Service.Http;

/// <summary>What every request passes through, and how JSON, problems and the API description look.</summary>
internal static class HttpRegistration
{
    internal static IServiceCollection AddHttp(this IServiceCollection services)
    {
        services.ConfigureHttpJsonOptions(options => Configure(options.SerializerOptions));
        services.Configure<RouteHandlerOptions>(options => options.ThrowOnBadRequest = true);
        services.Configure<RouteOptions>(options => options.LowercaseUrls = true);
        services.Configure<KestrelServerOptions>(options =>
        {
            options.AddServerHeader = false;
            options.Limits.MaxRequestBodySize = Limits.RequestBodyBytes;
        });
        // Only what is large and says nothing secret beside what a stranger sent; a stream of events is never held back to be compressed.
        services.AddResponseCompression(options => options.MimeTypes = ["application/json", "text/csv"]);
        services.Configure<BrotliCompressionProviderOptions>(options => options.Level = CompressionLevel.Fastest);
        services.Configure<GzipCompressionProviderOptions>(options => options.Level = CompressionLevel.Fastest);
        services.AddProblemDetails();
        services.AddExceptionHandler<ProblemHandler>();
        services.AddOpenApi("v1", OpenApiWords.Configure);
        return services;
    }

    /// <summary>JSON on the wire: camelCase, NodaTime as RFC 3339, numbers as numbers, enums as words.</summary>
    internal static void Configure(JsonSerializerOptions json)
    {
        json.NumberHandling = JsonNumberHandling.Strict;
        json.Converters.Add(new JsonStringEnumConverter(JsonNamingPolicy.CamelCase, allowIntegerValues: false));
        json.ConfigureForNodaTime(DateTimeZoneProviders.Tzdb);
    }

    /// <summary>The order matters: headers and problems outermost, then routing, files, sign-in, and the guard of every change.</summary>
    internal static RouteGroupBuilder UseHttp(this WebApplication app)
    {
        app.Use(SecurityHeaders.Add);
        app.UseResponseCompression();
        app.UseExceptionHandler();
        app.UseStatusCodePages(context => Problems.Plain(context.HttpContext.Response.StatusCode).ExecuteAsync(context.HttpContext));
        app.UseRouting();
        app.UseWebApp();
        app.UseMiddleware<SameOrigin>();
        app.UseAuthentication();
        app.UseAuthorization();
        app.MapOpenApi("/openapi/{documentName}.json").WithName("getApiDescription").RequireAuthorization(Policies.Viewer);
        return app.MapGroup("/api").RequireAuthorization(Policies.Viewer).AddEndpointFilter(NoStore)
            .ProducesProblem(StatusCodes.Status401Unauthorized).ProducesProblem(StatusCodes.Status403Forbidden);
    }

    // What the API says is of this moment: neither a proxy nor the back button may show it as current later.
    private static ValueTask<object?> NoStore(EndpointFilterInvocationContext context, EndpointFilterDelegate next)
    {
        context.HttpContext.Response.Headers.CacheControl = "no-store";
        return next(context);
    }
}
