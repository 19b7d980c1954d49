using Incubation.Service.Tests.Hosting;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace Incubation.Service.Tests.Http;

public sealed class EndpointWalkTests
{
    /// <summary>Everything that may be asked for without signing in, and why. A new name here is a decision.</summary>
    private static readonly Dictionary<string, string> Anonymous = new()
    {
        ["getHealth"] = "container health checks have no session",
        ["getReadiness"] = "container health checks have no session",
        ["getSession"] = "the page must know whether to show the sign-in",
        ["claimFacility"] = "there is nobody yet; the code from the log guards it",
        ["signIn"] = "that is what it is for",
        ["signOut"] = "ending a session that has ended already is no error",
        ["showAnswerLink"] = "a link in a message opens without signing in; its token is the key",
        ["useAnswerLink"] = "a link in a message answers without signing in; its token is the key",
    };

    [Fact]
    public async Task Every_endpoint_is_named_once_and_guarded_or_on_the_list()
    {
        await using RunningService service = await RunningService.StartAsync();
        RouteEndpoint[] endpoints = [.. service.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()];
        Assert.True(endpoints.Length >= 8, $"only {endpoints.Length} endpoints were found");

        var wrong = new List<string>();
        var names = new HashSet<string>(StringComparer.Ordinal);
        foreach (RouteEndpoint endpoint in endpoints)
        {
            string route = endpoint.RoutePattern.RawText ?? "";
            string? name = endpoint.Metadata.GetMetadata<IEndpointNameMetadata>()?.EndpointName;
            if (name is null || !names.Add(name))
            {
                wrong.Add($"{route}: no name of its own ({name})");
                continue;
            }

            bool anonymous = endpoint.Metadata.GetMetadata<IAllowAnonymous>() is not null;
            if (anonymous != Anonymous.ContainsKey(name))
            {
                wrong.Add($"{route} ({name}): {(anonymous ? "open, but not on the list" : "on the list, but closed")}");
            }

            if (!anonymous && !endpoint.Metadata.GetOrderedMetadata<IAuthorizeData>().Any(a => a.Policy is not null))
            {
                wrong.Add($"{route} ({name}): no policy");
            }
        }

        Assert.Empty(wrong);
    }

    [Fact]
    public async Task Every_closed_endpoint_really_answers_401_to_a_stranger()
    {
        await using RunningService service = await RunningService.StartAsync();
        using HttpClient stranger = service.Browser();
        foreach (RouteEndpoint endpoint in service.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>())
        {
            if (endpoint.Metadata.GetMetadata<IAllowAnonymous>() is not null)
            {
                continue;
            }

            foreach (string method in endpoint.Metadata.GetMetadata<IHttpMethodMetadata>()?.HttpMethods ?? ["GET"])
            {
                string path = string.Join('/', endpoint.RoutePattern.PathSegments.Select(Segment));
                using var request = new HttpRequestMessage(new HttpMethod(method), $"/{path}");
                using HttpResponseMessage answer = await stranger.SendAsync(request, TestContext.Current.CancellationToken);
                Assert.True(answer.StatusCode == System.Net.HttpStatusCode.Unauthorized, $"{method} /{path} answered {answer.StatusCode}");
            }
        }
    }

    // A value that fits every constraint in use: a GUID is also a text.
    private static string Segment(Microsoft.AspNetCore.Routing.Patterns.RoutePatternPathSegment segment) => string.Concat(segment.Parts.Select(part => part switch
    {
        Microsoft.AspNetCore.Routing.Patterns.RoutePatternLiteralPart literal => literal.Content,
        Microsoft.AspNetCore.Routing.Patterns.RoutePatternSeparatorPart separator => separator.Content,
        Microsoft.AspNetCore.Routing.Patterns.RoutePatternParameterPart { Name: "documentName" } => "v1",
        _ => "0191e0a0-0000-7000-8000-000000000000",
    }));
}
