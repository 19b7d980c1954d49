using System.Text.Json;
using Microsoft.AspNetCore.Diagnostics;

namespace Incubation.Service.Http;

/// <summary>Turns what a handler throws into a problem document: a request that can't be read into 400 with the field, the rest into 500.</summary>
internal sealed class ProblemHandler(ILogger<ProblemHandler> log) : IExceptionHandler
{
    public async ValueTask<bool> TryHandleAsync(HttpContext httpContext, Exception exception, CancellationToken cancellationToken)
    {
        if (httpContext.RequestAborted.IsCancellationRequested)
        {
            return true;
        }

        if (exception is BadHttpRequestException bad)
        {
            await Answer(bad).ExecuteAsync(httpContext);
            return true;
        }

        log.LogError(exception, "{Method} {Path} failed", httpContext.Request.Method, httpContext.Request.Path.Value);
        await Problems.Plain(StatusCodes.Status500InternalServerError).ExecuteAsync(httpContext);
        return true;
    }

    private static Microsoft.AspNetCore.Http.HttpResults.ProblemHttpResult Answer(BadHttpRequestException bad)
    {
        if (bad.StatusCode != StatusCodes.Status400BadRequest)
        {
            return Problems.Plain(bad.StatusCode);
        }

        return bad.InnerException is JsonException json ? Problems.Invalid(Field(json), Allowed(json)) : Problems.Plain(bad.StatusCode, bad.Message);
    }

    // JSON path without its root: "$.steps[0].who" is the form's "steps[0].who".
    private static string Field(JsonException json)
        => json.Path is { Length: > 2 } path && path.StartsWith("$.", StringComparison.Ordinal) ? path[2..] : "body";

    private static string Allowed(JsonException json)
        => json.Path is { Length: > 2 }
            ? "a value of the kind that the API description (/openapi/v1.json) gives for this field"
            : $"JSON as RFC 8259 has it (line {(json.LineNumber ?? 0) + 1}, byte {(json.BytePositionInLine ?? 0) + 1})";
}
