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
    public static ProblemHttpResult NotFound(string what)
        => TypedResults.Problem(
            statusCode: StatusCodes.Status404NotFound, type: "/problems/not-found", title: "There is no such thing.", detail: what);

    /// <summary>409: it can't be done as things stand.</summary>
    public static ProblemHttpResult Conflict(string why)
        => TypedResults.Problem(
            statusCode: StatusCodes.Status409Conflict, type: "/problems/conflict", title: "That can't be done as things stand.", detail: why);
}
