using Incubation.Service.Alarms;
using Incubation.Storage.Records;
using Microsoft.AspNetCore.Http.HttpResults;

namespace Incubation.Service.Calling;

/// <summary>Answer links: looking shows, and only the button answers. Anonymous, as the link itself is the secret.</summary>
internal static class AnswerEndpoints
{
    public static void Map(IEndpointRouteBuilder app)
    {
        app.MapMethods("/answer/{token}", [HttpMethods.Get, HttpMethods.Head], Show).AllowAnonymous().ExcludeFromDescription()
            .WithName("showAnswerLink").WithSummary("Shows the alarm behind an answer link; changes nothing.");
        app.MapPost("/answer/{token}", Answer).AllowAnonymous().ExcludeFromDescription()
            .WithName("useAnswerLink").WithSummary("\"I am on it\", by the person the link was sent to.");
    }

    private static async Task<IResult> Show(
        string token, HttpContext http, AnswerLinks links, AnswerWords words, CancellationToken cancellationToken)
    {
        AnswerLinkRecord? link = await links.FindAsync(token, cancellationToken);
        return link is null ? Unknown(http) : Page(http, StatusCodes.Status200OK, words.Of(link.Occurrence, link.Who));
    }

    private static async Task<IResult> Answer(
        string token, HttpContext http, AnswerLinks links, IAlarmDesk desk, CallTests tests, AnswerWords words, CancellationToken cancellationToken)
    {
        AnswerLinkRecord? link = await links.FindAsync(token, cancellationToken);
        if (link is null)
        {
            return Unknown(http);
        }

        if (tests.Answer(link.Occurrence) is not null)
        {
            return Page(http, StatusCodes.Status200OK, words.Of(link.Occurrence, link.Who));
        }

        AnswerOutcome outcome = desk.Answer(link.Occurrence, link.Who);
        return Page(http, StatusCodes.Status200OK, outcome == AnswerOutcome.Answered
            ? words.Thanks(link.Occurrence, link.Who)
            : words.Of(link.Occurrence, link.Who));
    }

    private static ContentHttpResult Unknown(HttpContext http) => Page(http, StatusCodes.Status404NotFound, new AnswerText(
        "This link is not known", null, ["It may have been cut off when it was copied. Open the newest message, or the first page of Incubation."], null));

    private static ContentHttpResult Page(HttpContext http, int status, AnswerText text)
    {
        IHeaderDictionary headers = http.Response.Headers;
        headers.ContentSecurityPolicy = AnswerPage.ContentPolicy;
        headers["Referrer-Policy"] = "no-referrer";
        headers.CacheControl = "no-store";
        headers["X-Robots-Tag"] = "noindex, nofollow";
        headers.XContentTypeOptions = "nosniff";
        return TypedResults.Content(
            AnswerPage.Html(text.Title, text.Gravity, text.Lines, text.Button), "text/html; charset=utf-8", statusCode: status);
    }
}
