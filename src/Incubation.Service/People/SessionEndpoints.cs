using System.Globalization;
using System.Security.Claims;
using Incubation.Core;
using Incubation.Service.Http;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.People;

/// <summary>Who is signed in, signing in and out, and the claim of a facility that has no owner yet.</summary>
internal static class SessionEndpoints
{
    public const int ShortestPassword = 10;
    public const int LongestPassword = 200;

    internal static RouteGroupBuilder MapPeople(this RouteGroupBuilder api)
    {
        api.MapGet("/session", Get).WithName("getSession").WithSummary("Who is signed in, and whether the facility has an owner.").AllowAnonymous();
        api.MapPost("/claim", Claim).WithName("claimFacility").WithSummary("Claims the facility with the one-time code from the log.")
            .AllowAnonymous().ProducesProblem(400).ProducesProblem(409).ProducesProblem(429);
        api.MapPost("/session", SignIn).WithName("signIn").WithSummary("Signs in by name and password.")
            .AllowAnonymous().ProducesProblem(400).ProducesProblem(401).ProducesProblem(429);
        api.MapDelete("/session", SignOut).WithName("signOut").WithSummary("Ends the session of this browser.").AllowAnonymous();
        return api;
    }

    internal static Ok<SessionView> Get(ClaimsPrincipal user, SessionDesk desk) => TypedResults.Ok(desk.View(user));

    internal static async Task<Results<Ok<SessionView>, ProblemHttpResult>> Claim(
        ClaimRequest request, SessionDesk desk, HttpContext context, CancellationToken cancellationToken)
    {
        Dictionary<string, string[]> errors = Check(request.Name, request.Password);
        if (errors.Count > 0)
        {
            return Problems.Invalid(errors);
        }

        return await desk.ClaimAsync(request, context, cancellationToken);
    }

    internal static async Task<Results<Ok<SessionView>, ProblemHttpResult>> SignIn(
        SignInRequest request, SessionDesk desk, HttpContext context)
    {
        if (string.IsNullOrWhiteSpace(request.Name) || request.Name.Length > Limits.NameLength)
        {
            return Problems.Invalid("name", $"the name you signed up with, at most {Limits.NameLength} characters");
        }

        return string.IsNullOrEmpty(request.Password) || request.Password.Length > LongestPassword
            ? Problems.Invalid("password", $"your password, at most {LongestPassword} characters")
            : await desk.SignInAsync(request, context);
    }

    internal static async Task<NoContent> SignOut(HttpContext context, CancellationToken _)
    {
        await context.SignOutAsync();
        return TypedResults.NoContent();
    }

    private static Dictionary<string, string[]> Check(string? name, string? password)
    {
        var errors = new Dictionary<string, string[]>();
        if (string.IsNullOrWhiteSpace(name) || name.Length > Limits.NameLength || name.Any(char.IsControl))
        {
            errors["name"] = [$"1 to {Limits.NameLength} characters on one line"];
        }

        if (password is null || password.Length is < ShortestPassword or > LongestPassword)
        {
            errors["password"] = [string.Create(CultureInfo.InvariantCulture, $"{ShortestPassword} to {LongestPassword} characters; a few plain words are easiest to type at night")];
        }

        return errors;
    }
}
