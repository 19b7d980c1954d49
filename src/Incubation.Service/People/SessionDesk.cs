using System.Security.Claims;
using Incubation.Service.Hosting;
using Incubation.Service.Http;
using Incubation.Storage.Records;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Extensions.Options;

namespace Incubation.Service.People;

/// <summary>Decides who gets a session. Knows nothing about routes; the endpoints check the form first.</summary>
internal sealed class SessionDesk(
    PeopleRoster roster, ClaimCode code, SignInThrottle throttle, RunMode mode, IOptions<IncubationOptions> options, ILogger<SessionDesk> log)
{
    // A claim has no name yet: its tries are counted under one of their own.
    private const string ClaimName = "(claim)";

    public SessionView View(ClaimsPrincipal user)
    {
        bool signedIn = user.Identity?.IsAuthenticated == true;
        string state = signedIn ? "signed in" : roster.IsClaimed || mode.Demo ? "signed out" : "unclaimed";
        FacilityOptions facility = options.Value.Facility;
        return new SessionView(state, user.Identity?.Name, user.FindFirstValue(ClaimTypes.Role), mode.Demo, facility.Name, facility.Zone);
    }

    public async Task<Results<Ok<SessionView>, ProblemHttpResult>> ClaimAsync(
        ClaimRequest request, HttpContext context, CancellationToken cancellationToken)
    {
        if (roster.IsClaimed || mode.Demo)
        {
            return Problems.Conflict("This facility has an owner. Sign in instead.");
        }

        string address = Address(context);
        if (throttle.Wait(address, ClaimName) is { } wait)
        {
            return Problems.TooMany(context, wait);
        }

        if (!code.Matches(request.Code, out bool replaced))
        {
            throttle.Wrong(address, ClaimName);
            if (replaced)
            {
                log.LogWarning("The claim code was tried wrongly {Count} times and has been replaced. The code is now {Code}", ClaimCode.MostTries, code.Shown);
            }

            return Problems.Invalid("code", "the one-time code that the service's log shows now");
        }

        PersonRecord? owner = await roster.ClaimAsync(request.Name, request.Password, cancellationToken);
        if (owner is null)
        {
            return Problems.Conflict("This facility has an owner. Sign in instead.");
        }

        throttle.Right(address, ClaimName);
        log.LogInformation("{Name} claimed the facility", owner.Name);
        return await BeginAsync(owner, context);
    }

    public async Task<Results<Ok<SessionView>, ProblemHttpResult>> SignInAsync(SignInRequest request, HttpContext context)
    {
        string address = Address(context);
        if (throttle.Wait(address, request.Name) is { } wait)
        {
            return Problems.TooMany(context, wait);
        }

        PersonRecord? person = roster.Check(request.Name, request.Password);
        if (person is null)
        {
            throttle.Wrong(address, request.Name);
            return Problems.NotSignedIn("Name and password don't belong together.");
        }

        throttle.Right(address, request.Name);
        return await BeginAsync(person, context);
    }

    private async Task<Ok<SessionView>> BeginAsync(PersonRecord person, HttpContext context)
    {
        ClaimsPrincipal principal = SessionPrincipal.For(person);
        await context.SignInAsync(principal, new AuthenticationProperties { IsPersistent = true });
        return TypedResults.Ok(View(principal));
    }

    private static string Address(HttpContext context)
        => context.Connection.RemoteIpAddress?.ToString() ?? "unknown";
}
