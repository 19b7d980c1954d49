using System.Security.Claims;
using Incubation.Storage.Records;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;

namespace Incubation.Service.People;

/// <summary>What a session cookie says, and whether it still holds.</summary>
internal static class SessionPrincipal
{
    private const string StampClaim = "stamp";

    public static ClaimsPrincipal For(PersonRecord person) => new(new ClaimsIdentity(
        [
            new Claim(ClaimTypes.NameIdentifier, person.Id.ToString()),
            new Claim(ClaimTypes.Name, person.Name),
            new Claim(ClaimTypes.Role, person.Role),
            new Claim(StampClaim, person.SecurityStamp),
        ],
        CookieAuthenticationDefaults.AuthenticationScheme));

    /// <summary>Ends a session whose person is gone or whose stamp has changed since.</summary>
    public static async Task ValidateAsync(CookieValidatePrincipalContext context)
    {
        PeopleRoster roster = context.HttpContext.RequestServices.GetRequiredService<PeopleRoster>();
        PersonRecord? person = Guid.TryParse(context.Principal?.FindFirstValue(ClaimTypes.NameIdentifier), out Guid id) ? roster.ById(id) : null;
        if (person is null || person.SecurityStamp != context.Principal!.FindFirstValue(StampClaim))
        {
            context.RejectPrincipal();
            await context.HttpContext.SignOutAsync(CookieAuthenticationDefaults.AuthenticationScheme);
        }
    }
}
