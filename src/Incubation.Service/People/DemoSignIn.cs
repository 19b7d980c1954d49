using System.Net;
using System.Security.Claims;
using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Authentication;
using Microsoft.Extensions.Options;

namespace Incubation.Service.People;

/// <summary>
/// Signs everyone in who comes from this machine; registered for the demo verb only. The Host header must name this machine as well, or
/// a page elsewhere could point its own name at 127.0.0.1 and read the demo.
/// </summary>
internal sealed class DemoSignIn(
    IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory logger, UrlEncoder encoder)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    public const string SchemeName = "demo";

    public const string KeeperName = "Demo keeper";

    protected override Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        ConnectionInfo connection = Context.Connection;
        if (!IsThisMachine(connection.RemoteIpAddress) || !IsThisMachine(connection.LocalIpAddress) || !NamesThisMachine(Request.Host.Host))
        {
            return Task.FromResult(AuthenticateResult.NoResult());
        }

        var identity = new ClaimsIdentity([new Claim(ClaimTypes.Name, KeeperName), new Claim(ClaimTypes.Role, Policies.Owner)], Scheme.Name);
        return Task.FromResult(AuthenticateResult.Success(new AuthenticationTicket(new ClaimsPrincipal(identity), Scheme.Name)));
    }

    private static bool IsThisMachine(IPAddress? address) => address is not null && IPAddress.IsLoopback(address);

    private static bool NamesThisMachine(string host)
        => host.Equals("localhost", StringComparison.OrdinalIgnoreCase) || (IPAddress.TryParse(host, out IPAddress? address) && IPAddress.IsLoopback(address));
}
