using System.Security.Claims;
using Incubation.Core.Alarms;
using Incubation.Service.Http;
using Incubation.Service.People;
using Incubation.Storage.Records;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;

namespace Incubation.Service.Alarms;

/// <summary>HTTP face of the alarms.</summary>
internal static class AlarmEndpoints
{
    private const int MostEntries = 1000;

    public static void Map(RouteGroupBuilder api)
    {
        RouteGroupBuilder group = api.MapGroup("/alarms").WithTags("Alarms");
        group.MapGet("/", List).WithName("listAlarms").WithSummary("Alarms that are not normal, gravest and oldest first.");
        group.MapPost("/{occurrence:guid}/answers", Answer).WithName("answerAlarm")
            .WithSummary("\"I am on it\": answers one occurrence of one alarm and silences no other.").RequireAuthorization(Policies.Keeper)
            .ProducesProblem(StatusCodes.Status404NotFound).ProducesProblem(StatusCodes.Status409Conflict);
        group.MapGet("/journal", Journal).WithName("listAlarmJournal").WithSummary("Every step of every alarm, newest first.")
            .ProducesProblem(StatusCodes.Status400BadRequest);
    }

    private static Ok<IReadOnlyList<AlarmView>> List(IAlarmDesk desk, AlarmSpeech speech)
        => TypedResults.Ok<IReadOnlyList<AlarmView>>([.. desk.Standing().Select(a => AlarmView.Of(a, speech))]);

    private static Results<Ok<AlarmView>, ProblemHttpResult> Answer(
        Guid occurrence, ClaimsPrincipal user, IAlarmDesk desk, AlarmSpeech speech, EndedAlarms ended)
    {
        StandingAlarm? before = desk.Standing().FirstOrDefault(a => a.Occurrence == occurrence);
        string by = user.Identity!.Name!;
        AnswerOutcome outcome = desk.Answer(occurrence, by);
        StandingAlarm? now = desk.Standing().FirstOrDefault(a => a.Occurrence == occurrence);
        return outcome switch
        {
            // A returned alarm is normal once answered, and no longer among those that stand: what was answered is shown.
            AnswerOutcome.Answered => TypedResults.Ok(AlarmView.Of(now ?? before! with { State = AlarmState.Normal, AnsweredBy = by, NextCall = null }, speech)),
            AnswerOutcome.AlreadyAnswered => Problems.Conflict($"{now?.AnsweredBy ?? "Someone"} has answered this alarm already."),
            AnswerOutcome.Over => Problems.Conflict(ended.Find(occurrence)?.Sentence ?? "This alarm is over."),
            _ => Problems.NotFound($"There is no alarm {occurrence}."),
        };
    }

    private static async Task<Results<Ok<List<JournalEntry>>, ProblemHttpResult>> Journal(
        string? incubator, long? before, IDbContextFactory<RecordsContext> records, CancellationToken cancellationToken, int limit = 100)
    {
        if (limit is < 1 or > MostEntries)
        {
            return Problems.Invalid("limit", "a whole number from 1 to 1000.");
        }

        await using RecordsContext context = await records.CreateDbContextAsync(cancellationToken);
        IQueryable<AlarmJournalRecord> lines = context.AlarmJournal.AsNoTracking();
        lines = incubator is null ? lines : lines.Where(l => l.Incubator == incubator);
        lines = before is null ? lines : lines.Where(l => l.Id < before);
        return TypedResults.Ok(await lines.OrderByDescending(l => l.Id).Take(limit).Select(l => new JournalEntry(
            l.Id, l.Occurrence, l.Incubator, l.Probe, l.Quantity, l.Condition, l.Severity, l.Event, l.FromState, l.ToState, l.At,
            l.Value, l.Limit, l.By, l.Words)).ToListAsync(cancellationToken));
    }
}
