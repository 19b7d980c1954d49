using Incubation.Core.Clutches;
using Incubation.Service.Development;
using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Review;

/// <summary>One alarm from raised to over, as the journal has it.</summary>
/// <param name="Occurrence">Names it for good.</param>
/// <param name="Incubator">Key of the incubator, or empty for the whole facility.</param>
/// <param name="Quantity">What was judged, or empty.</param>
/// <param name="Condition">"high", "low", "no reading" or "nothing from any probe".</param>
/// <param name="Severity">"warning" or "danger".</param>
/// <param name="RaisedAt">When it was raised.</param>
/// <param name="Until">When it was over, or null.</param>
/// <param name="AnsweredBy">Who was on it, or null.</param>
/// <param name="AnsweredAt">Since when, or null.</param>
/// <param name="Words">What was said when it was raised.</param>
internal sealed record AlarmSpan(
    Guid Occurrence, string Incubator, string Quantity, string Condition, string Severity, Instant RaisedAt, Instant? Until,
    string? AnsweredBy, Instant? AnsweredAt, string Words)
{
    public bool Overlaps(Instant from, Instant until) => RaisedAt < until && !(Until <= from);
}

/// <summary>Alarms of the incubators a clutch was in, while it was there.</summary>
internal sealed class ClutchAlarms(IDbContextFactory<RecordsContext> records)
{
    // An alarm may have been raised this long before the clutch came and still have stood.
    private static readonly Duration Standing = Duration.FromDays(7);

    public async Task<IReadOnlyList<AlarmSpan>> WhileAsync(ClutchPath path, CancellationToken cancellationToken)
    {
        Whereabouts[] stretches = [.. path.Whereabouts.Where(stretch => stretch.Incubator is not null)];
        if (stretches.Length == 0)
        {
            return [];
        }

        // Alarms of the whole facility have no incubator.
        string[] places = [.. stretches.Select(stretch => stretch.Incubator!).Append("").Distinct()];
        Instant from = stretches[0].From - Standing, until = stretches[^1].Until + Standing;
        List<AlarmJournalRecord> lines;
        await using (RecordsContext context = await records.CreateDbContextAsync(cancellationToken))
        {
            lines = await context.AlarmJournal.AsNoTracking()
                .Where(line => line.At >= from && line.At < until && places.Contains(line.Incubator))
                .OrderBy(line => line.At).ThenBy(line => line.Id).ToListAsync(cancellationToken);
        }

        return
        [
            .. lines.GroupBy(line => line.Occurrence).Select(Span).OfType<AlarmSpan>()
                .Where(alarm => stretches.Any(stretch =>
                    (alarm.Incubator.Length == 0 || alarm.Incubator == stretch.Incubator) && alarm.Overlaps(stretch.From, stretch.Until)))
                .OrderBy(alarm => alarm.RaisedAt).ThenBy(alarm => alarm.Severity, StringComparer.Ordinal),
        ];
    }

    private static AlarmSpan? Span(IEnumerable<AlarmJournalRecord> lines)
    {
        AlarmJournalRecord? raised = null, over = null, answered = null;
        foreach (AlarmJournalRecord line in lines)
        {
            switch (line.Event)
            {
                case "raised": raised ??= line; break;
                // It came back while nobody had answered: it was not over after all.
                case "raised again": over = null; break;
                case "returned" or "ended": over ??= line; break;
                case "answered": answered ??= line; break;
            }
        }

        return raised is null
            ? null
            : new AlarmSpan(
                raised.Occurrence, raised.Incubator, raised.Quantity, raised.Condition, raised.Severity, raised.At, over?.At, answered?.By,
                answered?.At, raised.Words);
    }
}
