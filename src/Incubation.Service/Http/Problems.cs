using System.Globalization;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Http;

/// <summary>Every problem document of the service (RFC 9457, <c>application/problem+json</c>).</summary>
internal static class Problems
{
    /// <summary>400: one field is wrong; says which and what is allowed.</summary>
    public static ProblemHttpResult Invalid(string field, string allowed)
        => Invalid(new Dictionary<string, string[]> { [field] = [allowed] });

    /// <summary>400: several fields are wrong.</summary>
    public static ProblemHttpResult Invalid(IReadOnlyDictionary<string, string[]> errors)
        => TypedResults.Problem(
            statusCode: StatusCodes.Status400BadRequest,
            type: "/problems/invalid",
            title: "Something in the form is not right.",
            detail: string.Join(" ", errors.SelectMany(e => e.Value.Select(v => $"{e.Key}: {v}"))),
            extensions: new Dictionary<string, object?> { ["errors"] = errors });

    /// <summary>404: there is no such thing.</summary>
    public static ProblemHttpResult NotFound(string what) => Plain(StatusCodes.Status404NotFound, what);

    /// <summary>409: it can't be done as things stand.</summary>
    public static ProblemHttpResult Conflict(string why) => Plain(StatusCodes.Status409Conflict, why);

    /// <summary>401: who are you?</summary>
    public static ProblemHttpResult NotSignedIn(string why) => Plain(StatusCodes.Status401Unauthorized, why);

    /// <summary>429: too many tries; says in words and in <c>Retry-After</c> how long to wait.</summary>
    public static ProblemHttpResult TooMany(HttpContext context, TimeSpan wait)
    {
        int seconds = Math.Max(1, (int)Math.Ceiling(wait.TotalSeconds));
        context.Response.Headers.RetryAfter = seconds.ToString(CultureInfo.InvariantCulture);
        return Plain(StatusCodes.Status429TooManyRequests, $"Too many wrong tries. Try again in {seconds} seconds.");
    }

    /// <summary>The document for a status that has no words of its own, or with <paramref name="detail"/> as the words of this occurrence.</summary>
    public static ProblemHttpResult Plain(int status, string? detail = null)
    {
        (string name, string title, string usual) = Words(status);
        return TypedResults.Problem(statusCode: status, type: $"/problems/{name}", title: title, detail: detail ?? usual);
    }

    private static (string Name, string Title, string Detail) Words(int status) => status switch
    {
        400 => ("invalid", "Something in the request is not right.", "The request can't be read."),
        401 => ("signed-out", "You are not signed in.", "Sign in, then try again."),
        403 => ("not-allowed", "You may not do that.", "Ask the owner of this facility."),
        404 => ("not-found", "There is no such thing.", "Nothing is kept under this address."),
        405 => ("wrong-method", "That can't be done here.", "The Allow header says what can."),
        408 => ("too-slow", "The request came too slowly.", "Send it again."),
        409 => ("conflict", "That can't be done as things stand.", "Look again, then decide."),
        411 => ("length-missing", "The length of the request is missing.", "Send a Content-Length."),
        413 => ("too-large", "That is too large.", $"At most {Core.Limits.RequestBodyBytes / 1024} KiB are taken."),
        415 => ("wrong-media-type", "That kind of content is not taken here.", "Send application/json."),
        429 => ("too-many", "Too many tries.", "Wait a little."),
        503 => ("not-now", "Not now.", "The service can't do that at the moment. Try again soon."),
        507 => ("no-room", "There is no room for that.", "Make room on the disk, then try again."),
        _ when status >= 500 => ("fault", "Something went wrong inside the service.", "It has been written to the log. Nothing you entered before is lost."),
        _ => ("refused", "The request was refused.", $"Status {status.ToString(CultureInfo.InvariantCulture)}."),
    };
}
