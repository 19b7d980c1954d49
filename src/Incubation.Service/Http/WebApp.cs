namespace Incubation.Service.Http;

/// <summary>
/// The built web app from wwwroot. A page address (<c>/probes</c>) gets <c>index.html</c>, but only when a browser navigates to it: a
/// script that asks for a missing file must get 404, not a page of HTML.
/// </summary>
internal static class WebApp
{
    // A year, and "immutable" so that a reload doesn't ask again (RFC 8246): these names change when the content does.
    private const string Forever = "public, max-age=31536000, immutable";

    // Ask each time, answer 304: a new version must be seen at the next visit.
    private const string Ask = "no-cache";

    private static readonly string[] NotPages = ["/api", "/assets", "/openapi", "/answer", "/healthz", "/readyz", "/metrics", "/problems"];

    internal static void UseWebApp(this WebApplication app)
    {
        app.Use(ToIndex);
        app.UseStaticFiles(new StaticFileOptions
        {
            OnPrepareResponse = context => context.Context.Response.Headers.CacheControl =
                context.Context.Request.Path.StartsWithSegments("/assets") ? Forever : Ask,
        });
        app.Use(NotFound);
    }

    /// <summary>Whether this is a person opening a page of the app, as opposed to a program or a script asking for data.</summary>
    internal static bool IsPage(HttpRequest request)
        => HttpMethods.IsGet(request.Method) && !NotPages.Any(prefix => request.Path.StartsWithSegments(prefix))
            && !Path.HasExtension(request.Path) && request.Headers.Accept.ToString().Contains("text/html", StringComparison.OrdinalIgnoreCase);

    private static Task ToIndex(HttpContext context, RequestDelegate next)
    {
        // The first address is the page's for everyone, also for a program that only looks whether it is up.
        if (context.GetEndpoint() is null && (context.Request.Path == "/" || IsPage(context.Request)))
        {
            context.Request.Path = "/index.html";
        }

        return next(context);
    }

    // Nothing else serves files, so a file that isn't there is answered before sign-in is asked for.
    private static Task NotFound(HttpContext context, RequestDelegate next)
    {
        bool isFile = HttpMethods.IsGet(context.Request.Method) || HttpMethods.IsHead(context.Request.Method);
        if (context.GetEndpoint() is not null || !isFile || context.Request.Path.StartsWithSegments("/api"))
        {
            return next(context);
        }

        return Problems.NotFound(context.Request.Path == "/index.html"
            ? "The web app was not built into this service. Build it without -p:SkipDashboards=true."
            : "There is no such file or page.").ExecuteAsync(context);
    }
}
