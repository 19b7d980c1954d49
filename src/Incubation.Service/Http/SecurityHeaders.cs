namespace Incubation.Service.Http;

/// <summary>
/// Headers that every answer carries. A handler that needs other words (the answer page has its own) sets them itself and wins.
/// </summary>
internal static class SecurityHeaders
{
    /// <summary>Content Security Policy Level 3 (W3C): only our own files, nothing inline, framed by nobody.</summary>
    public const string ContentPolicy =
        "default-src 'self'; img-src 'self' data: blob:; object-src 'none'; base-uri 'self'; form-action 'self'; frame-ancestors 'none'";

    public static Task Add(HttpContext context, RequestDelegate next)
    {
        context.Response.OnStarting(() =>
        {
            IHeaderDictionary headers = context.Response.Headers;
            headers.TryAdd("Content-Security-Policy", ContentPolicy);
            headers.TryAdd("X-Content-Type-Options", "nosniff");
            headers.TryAdd("X-Frame-Options", "DENY");
            headers.TryAdd("Referrer-Policy", "same-origin");
            headers.TryAdd("Permissions-Policy", "camera=(self), microphone=(), geolocation=()");
            headers.TryAdd("Cross-Origin-Opener-Policy", "same-origin");
            return Task.CompletedTask;
        });
        return next(context);
    }
}
