using System.Collections.Immutable;

namespace Incubation.Core.Candling;

/// <summary>What became of an entry that was handed to the log.</summary>
public enum AppendOutcome
{
    /// <summary>It is in the log now.</summary>
    Added,

    /// <summary>The same entry was there already: nothing changed.</summary>
    AlreadyThere,

    /// <summary>The id is taken by an entry that says something else: nothing changed, the first one stays.</summary>
    IdTaken,

    /// <summary>It corrects itself, or an entry of another egg, or closes a circle of corrections: nothing changed.</summary>
    CorrectsWrongly,
}

/// <summary>An entry with what is known of its corrections.</summary>
/// <param name="Entry">The entry.</param>
/// <param name="SupersededBy">Ids of the entries that correct it; empty when it stands.</param>
public sealed record LoggedEntry(CandlingEntry Entry, ImmutableArray<Guid> SupersededBy)
{
    /// <summary>Whether no other entry corrects it.</summary>
    public bool Stands => SupersededBy.IsEmpty;
}

/// <summary>
/// The candlings of one clutch: append-only. Whatever order entries arrive in, and however often, the log is the same; two
/// people who look at the same egg, or correct the same entry, are both kept.
/// </summary>
public sealed class CandlingLog
{
    private readonly ImmutableDictionary<Guid, CandlingEntry> _entries;

    private CandlingLog(ImmutableDictionary<Guid, CandlingEntry> entries) => _entries = entries;

    /// <summary>A log with nothing in it.</summary>
    public static CandlingLog Empty { get; } = new(ImmutableDictionary<Guid, CandlingEntry>.Empty);

    /// <summary>Number of entries, corrected ones included.</summary>
    public int Count => _entries.Count;

    /// <summary>A log of stored entries; those that cannot be appended are left out.</summary>
    public static CandlingLog Of(IEnumerable<CandlingEntry> entries)
    {
        ArgumentNullException.ThrowIfNull(entries);
        return entries.Aggregate(Empty, (log, entry) => log.Append(entry).Log);
    }

    /// <summary>The log with one more entry, and what became of it. A correction may arrive before what it corrects.</summary>
    public (CandlingLog Log, AppendOutcome Outcome) Append(CandlingEntry entry)
    {
        ArgumentNullException.ThrowIfNull(entry);
        if (_entries.TryGetValue(entry.Id, out CandlingEntry? there))
        {
            return (this, there.SaysTheSame(entry) ? AppendOutcome.AlreadyThere : AppendOutcome.IdTaken);
        }

        return CorrectsWrongly(entry)
            ? (this, AppendOutcome.CorrectsWrongly)
            : (new CandlingLog(_entries.Add(entry.Id, entry)), AppendOutcome.Added);
    }

    /// <summary>Everything ever entered about an egg, in order of looking, corrected entries included.</summary>
    public IReadOnlyList<LoggedEntry> History(int egg) => [.. Ordered(egg).Select(entry => new LoggedEntry(entry, Correctors(entry.Id)))];

    /// <summary>The entries of an egg that stand, in order of looking.</summary>
    public IReadOnlyList<CandlingEntry> Standing(int egg) => [.. Ordered(egg).Where(entry => Correctors(entry.Id).IsEmpty)];

    /// <summary>The last standing tint of an egg looked at before <paramref name="before"/>, or null. What was seen after hatch does not count.</summary>
    public string? LastTint(int egg, NodaTime.Instant? before = null) => Standing(egg)
        .Where(entry => entry.Tint is not null && (before is null || entry.At < before))
        .LastOrDefault()?.Tint;

    private IEnumerable<CandlingEntry> Ordered(int egg) => _entries.Values.Where(entry => entry.Egg == egg)
        .OrderBy(entry => entry.At).ThenBy(entry => entry.EnteredAt).ThenBy(entry => entry.Id);

    private ImmutableArray<Guid> Correctors(Guid id) =>
        [.. _entries.Values.Where(entry => entry.Supersedes == id).Select(entry => entry.Id).Order()];

    private bool CorrectsWrongly(CandlingEntry entry)
    {
        // An entry that waits for this one as what it corrects must be of the same egg too.
        if (_entries.Values.Any(later => later.Supersedes == entry.Id && later.Egg != entry.Egg))
        {
            return true;
        }

        if (entry.Supersedes is not { } corrected)
        {
            return false;
        }

        if (_entries.TryGetValue(corrected, out CandlingEntry? first) && first.Egg != entry.Egg)
        {
            return true;
        }

        Guid? step = corrected;
        while (step is { } id)
        {
            if (id == entry.Id)
            {
                return true;
            }

            step = _entries.TryGetValue(id, out CandlingEntry? next) ? next.Supersedes : null;
        }

        return false;
    }
}
