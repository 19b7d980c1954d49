using Incubation.Service.Hosting;
using Incubation.Service.People;
using Microsoft.Extensions.Options;

namespace Incubation.Service.Http;

/// <summary>
/// Refuses requests that change something and were sent by a page of another site. Browsers say where a request comes from in
/// <c>Sec-Fetch-Site</c> (W3C Fetch Metadata) and, older ones, in <c>Origin</c> (RFC 6454). A request with neither does not come from a
/// current browser: it may pass, but not on the strength of a session cookie, so that a browser that hides both can't be used.
/// </summary>
internal sealed class SameOrigin(RequestDelegate next, IOptions<IncubationOptions> options)
{
    public Task InvokeAsync(HttpContext context)
    {
        HttpRequest request = context.Request;
        if (HttpMethods.IsGet(request.Method) || HttpMethods.IsHead(request.Method) || HttpMethods.IsOptions(request.Method)
            || IsOwn(request, options.Value.Http.PublicAddress)
            // The token in an answer link is the secret there, no session is used, and a page that sends no referrer has the Origin "null".
            || request.Path.StartsWithSegments("/answer"))
        {
            return next(context);
        }

        return Problems.Plain(StatusCodes.Status403Forbidden,
            "This request came from another site. Allowed: requests from this service's own pages (Sec-Fetch-Site same-origin, or an Origin " +
            "that equals the Host), and programs that send no session cookie.").ExecuteAsync(context);
    }

    /// <summary>The rule itself, apart from the pipeline.</summary>
    internal static bool IsOwn(HttpRequest request, string? publicAddress)
    {
        string site = request.Headers["Sec-Fetch-Site"].ToString();
        if (site.Length > 0)
        {
            return site is "same-origin" or "none";
        }

        string origin = request.Headers.Origin.ToString();
        if (origin.Length > 0)
        {
            // "null" (a sandboxed page, a redirect across sites) parses as no absolute address.
            return Uri.TryCreate(origin, UriKind.Absolute, out Uri? from) && (from.Scheme is "http" or "https")
                && (IsHost(from, request.Host) || IsPublic(from, publicAddress));
        }

        return !request.Cookies.ContainsKey(SessionCookie.Name);
    }

    // Only host and port: behind a proxy that ends TLS the page is https and this request is http.
    private static bool IsHost(Uri from, HostString host)
        => Uri.TryCreate($"{from.Scheme}://{host.Value}", UriKind.Absolute, out Uri? own) && Same(from, own);

    private static bool IsPublic(Uri from, string? publicAddress)
        => Uri.TryCreate(publicAddress, UriKind.Absolute, out Uri? own) && Same(from, own);

    private static bool Same(Uri a, Uri b) => a.Port == b.Port && string.Equals(a.IdnHost, b.IdnHost, StringComparison.OrdinalIgnoreCase);
}
