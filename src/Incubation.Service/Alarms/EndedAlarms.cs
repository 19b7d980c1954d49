using Incubation.Storage.Records;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace Incubation.Service.Alarms;

/// <summary>An occurrence that is over.</summary>
/// <param name="Occurrence">Which.</param>
/// <param name="At">Since when, on the wall.</param>
/// <param name="AnsweredBy">Who had answered it, or null when nobody needed to.</param>
/// <param name="Words">What the journal says last about it.</param>
internal sealed record EndedAlarm(Guid Occurrence, Instant At, string? AnsweredBy, string Words)
{
    /// <summary>For someone who comes late.</summary>
    public string Sentence => AnsweredBy is { } who ? $"This alarm is over; {who} answered it." : "This alarm is over, and nothing is left to answer.";
}

/// <summary>
/// The latest occurrences that are over, so that whoever opens an old link is told so and not that the alarm was never known. Bounded:
/// of one that is older than the newest <see cref="Most"/> nothing is said but that it is not known.
/// </summary>
internal sealed class EndedAlarms
{
    /// <summary>Kept in memory; at the worst rate of a bad night (one a minute) more than a day.</summary>
    public const int Most = 2_000;

    private readonly Lock _gate = new();
    private readonly Dictionary<Guid, EndedAlarm> _ended = [];
    private readonly Queue<Guid> _order = new();

    public void Add(EndedAlarm alarm)
    {
        lock (_gate)
        {
            if (_ended.TryAdd(alarm.Occurrence, alarm))
            {
                _order.Enqueue(alarm.Occurrence);
            }

            while (_order.Count > Most)
            {
                _ended.Remove(_order.Dequeue());
            }
        }
    }

    public EndedAlarm? Find(Guid occurrence)
    {
        lock (_gate)
        {
            return _ended.GetValueOrDefault(occurrence);
        }
    }

    /// <summary>Reads the newest from the journal.</summary>
    public async Task LoadAsync(RecordsContext records, CancellationToken cancellationToken)
    {
        string normal = AlarmRows.Words(Core.Alarms.AlarmState.Normal);
        List<AlarmJournalRecord> lines = await records.AlarmJournal.AsNoTracking()
            .Where(l => l.ToState == normal && l.FromState != normal)
            .OrderByDescending(l => l.Id).Take(Most).ToListAsync(cancellationToken);
        List<Guid> occurrences = [.. lines.Select(l => l.Occurrence)];
        string answered = AlarmRows.Words(Core.Alarms.AlarmStep.Answered);
        Dictionary<Guid, string?> by = (await records.AlarmJournal.AsNoTracking()
                .Where(l => l.Event == answered && occurrences.Contains(l.Occurrence)).Select(l => new { l.Occurrence, l.By }).ToListAsync(cancellationToken))
            .GroupBy(l => l.Occurrence).ToDictionary(l => l.Key, l => l.Last().By);
        foreach (AlarmJournalRecord line in lines.OrderBy(l => l.Id))
        {
            Add(new EndedAlarm(line.Occurrence, line.At, by.GetValueOrDefault(line.Occurrence), line.Words));
        }
    }
}
