using Incubation.Service.Http;
using Incubation.Service.People;
using Microsoft.AspNetCore.Http;
using Xunit;

namespace Incubation.Service.Tests.Http;

/// <summary>Headers as in W3C "Fetch Metadata Request Headers" (Sec-Fetch-Site) and RFC 6454 section 7 (Origin).</summary>
public sealed class SameOriginTests
{
    [Theory]
    [InlineData("same-origin", null, true, true)]
    [InlineData("none", null, true, true)]
    [InlineData("same-site", "http://eggs.example:5080", true, false)]
    [InlineData("cross-site", null, false, false)]
    [InlineData(null, "http://eggs.example:5080", true, true)]
    [InlineData(null, "https://eggs.example:5080", true, true)]
    [InlineData(null, "https://public.example", true, true)]
    [InlineData(null, "http://eggs.example", true, false)]
    [InlineData(null, "http://evil.example:5080", true, false)]
    [InlineData(null, "null", true, false)]
    [InlineData(null, "eggs.example:5080", true, false)]
    [InlineData(null, null, true, false)]
    [InlineData(null, null, false, true)]
    public void IsOwn_tells_our_pages_from_others(string? site, string? origin, bool cookie, bool expected)
    {
        HttpRequest request = new DefaultHttpContext().Request;
        request.Host = new HostString("eggs.example", 5080);
        request.Headers["Sec-Fetch-Site"] = site;
        request.Headers.Origin = origin;
        request.Headers.Cookie = cookie ? $"{SessionCookie.Name}=x" : null;
        Assert.Equal(expected, SameOrigin.IsOwn(request, "https://public.example"));
    }
}
