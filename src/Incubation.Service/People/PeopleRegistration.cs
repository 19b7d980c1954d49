using Incubation.Service.Hosting;
using Incubation.Storage.Records;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.DataProtection.KeyManagement;
using Microsoft.AspNetCore.DataProtection.Repositories;
using Microsoft.AspNetCore.Identity;

namespace Incubation.Service.People;

/// <summary>Sign-in by cookie, the policies, and a fallback that closes every endpoint that says nothing.</summary>
internal static class PeopleRegistration
{
    /// <summary>A phone beside the bed must not ask for a password at three in the morning; ninety days from its last use.</summary>
    public static readonly TimeSpan SessionLength = TimeSpan.FromDays(90);

    internal static IServiceCollection AddPeople(this IServiceCollection services, RunMode mode)
    {
        services.AddSingleton<IPasswordHasher<PersonRecord>, PasswordHasher<PersonRecord>>();
        services.AddSingleton<PeopleRoster>();
        services.AddSingleton<IStartupStep>(provider => provider.GetRequiredService<PeopleRoster>());
        services.AddSingleton<IStartupStep, KeyDirectory>();
        services.AddSingleton<ClaimCode>();
        services.AddSingleton<SignInThrottle>();
        services.AddSingleton<SessionDesk>();
        services.AddHostedService<ClaimNotice>();
        AddSignIn(services, mode);
        AddPolicies(services);
        return services;
    }

    private static void AddSignIn(IServiceCollection services, RunMode mode)
    {
        services.AddDataProtection().SetApplicationName("incubation");
        services.AddOptions<KeyManagementOptions>().Configure<DataPaths, ILoggerFactory>((keys, paths, logs) =>
            keys.XmlRepository = new FileSystemXmlRepository(new DirectoryInfo(paths.Keys), logs));

        AuthenticationBuilder authentication = services.AddAuthentication(
            mode.Demo ? DemoSignIn.SchemeName : CookieAuthenticationDefaults.AuthenticationScheme);
        if (mode.Demo)
        {
            authentication.AddScheme<AuthenticationSchemeOptions, DemoSignIn>(DemoSignIn.SchemeName, null);
            return;
        }

        authentication.AddCookie(cookie =>
        {
            cookie.Cookie.Name = SessionCookie.Name;
            cookie.Cookie.HttpOnly = true;
            // Lax, not Strict: a link in a message must open the page signed in. Writes are guarded by the origin check.
            cookie.Cookie.SameSite = SameSiteMode.Lax;
            cookie.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
            cookie.ExpireTimeSpan = SessionLength;
            cookie.SlidingExpiration = true;
            cookie.Events.OnValidatePrincipal = SessionPrincipal.ValidateAsync;
            // The web app shows its own sign-in; a redirect would only confuse fetch.
            cookie.Events.OnRedirectToLogin = context => Answer(context, StatusCodes.Status401Unauthorized);
            cookie.Events.OnRedirectToAccessDenied = context => Answer(context, StatusCodes.Status403Forbidden);
        });
    }

    private static void AddPolicies(IServiceCollection services)
    {
        AuthorizationPolicy viewer = new AuthorizationPolicyBuilder().RequireAuthenticatedUser().Build();
        services.AddAuthorizationBuilder()
            .SetFallbackPolicy(viewer)
            .SetDefaultPolicy(viewer)
            .AddPolicy(Policies.Viewer, viewer)
            .AddPolicy(Policies.Keeper, policy => policy.RequireRole(Policies.Keeper, Policies.Owner))
            .AddPolicy(Policies.Owner, policy => policy.RequireRole(Policies.Owner));
    }

    private static Task Answer(RedirectContext<CookieAuthenticationOptions> context, int status)
    {
        context.Response.StatusCode = status;
        return Task.CompletedTask;
    }
}

/// <summary>Name of the cookie that holds a session.</summary>
internal static class SessionCookie
{
    public const string Name = "incubation-session";
}

/// <summary>Makes the directory of the cookie keys readable for this user only, before anything writes into it.</summary>
internal sealed class KeyDirectory(DataPaths paths) : IStartupStep
{
    public StartupStage Stage => StartupStage.People;

    public Task RunAsync(CancellationToken cancellationToken)
    {
        if (OperatingSystem.IsWindows())
        {
            Directory.CreateDirectory(paths.Keys);
        }
        else
        {
            const UnixFileMode ownerOnly = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;
            Directory.CreateDirectory(paths.Keys, ownerOnly);
            File.SetUnixFileMode(paths.Keys, ownerOnly);
        }

        return Task.CompletedTask;
    }
}

/// <summary>Writes the one-time code to the log for as long as nobody owns the facility.</summary>
internal sealed class ClaimNotice(PeopleRoster roster, ClaimCode code, RunMode mode, ILogger<ClaimNotice> log) : IHostedService
{
    public Task StartAsync(CancellationToken cancellationToken)
    {
        if (!roster.IsClaimed && !mode.Demo)
        {
            log.LogWarning("This facility has no owner yet and listens to this machine only. Open it here and claim it with the code {Code}", code.Shown);
        }

        return Task.CompletedTask;
    }

    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;
}
