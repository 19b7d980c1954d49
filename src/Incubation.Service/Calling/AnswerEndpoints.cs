using Incubation.Core.Alarms;
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
        string token, HttpContext http, AnswerLinks links, IAlarmDesk desk, AlarmSpeech speech, CancellationToken cancellationToken)
    {
        AnswerLinkRecord? link = await links.FindAsync(token, cancellationToken);
        if (link is null)
        {
            return Page(http, StatusCodes.Status404NotFound, "This link is not known", null,
                ["It may have been cut off when it was copied. Open the newest message, or the first page of Incubation."], null);
        }

        StandingAlarm? alarm = desk.Standing().FirstOrDefault(a => a.Occurrence == link.Occurrence);
        if (alarm is null)
        {
            return Page(http, StatusCodes.Status200OK, "This alarm is over", null, ["It is back to normal and was answered. Nothing is left to do here."], null);
        }

        string gravity = AlarmRows.Words(alarm.Key.Severity);
        if (alarm.State == AlarmState.Acknowledged)
        {
            bool self = alarm.AnsweredBy == link.Who;
            return Page(http, StatusCodes.Status200OK, self ? "You are on it" : $"{alarm.AnsweredBy} is on it", gravity,
                [speech.Say(alarm), self ? "The calls about this alarm have stopped." : "Nobody else is called about this alarm."], null);
        }

        return Page(http, StatusCodes.Status200OK, speech.Line(alarm), gravity,
            [speech.Say(alarm), $"Nobody has answered yet. You answer as {link.Who}."], "I am on it");
    }

    private static async Task<IResult> Answer(
        string token, HttpContext http, AnswerLinks links, IAlarmDesk desk, AlarmSpeech speech, CancellationToken cancellationToken)
    {
        AnswerLinkRecord? link = await links.FindAsync(token, cancellationToken);
        if (link is not null)
        {
            desk.Answer(link.Occurrence, link.Who);
        }

        return await Show(token, http, links, desk, speech, cancellationToken);
    }

    private static ContentHttpResult Page(HttpContext http, int status, string title, string? gravity, IEnumerable<string> lines, string? button)
    {
        IHeaderDictionary headers = http.Response.Headers;
        headers.ContentSecurityPolicy = AnswerPage.ContentPolicy;
        headers["Referrer-Policy"] = "no-referrer";
        headers.CacheControl = "no-store";
        headers["X-Robots-Tag"] = "noindex, nofollow";
        headers.XContentTypeOptions = "nosniff";
        return TypedResults.Content(AnswerPage.Html(title, gravity, lines, button), "text/html; charset=utf-8", statusCode: status);
    }
}
