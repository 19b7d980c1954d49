using System.Globalization;
using Incubation.Core.Clutches;
using NodaTime;

namespace Incubation.Core.Candling;

/// <summary>What may be entered at candling, and the words when it may not.</summary>
public static class CandlingRules
{
    /// <summary>Checks an entry. Terms are checked by the caller, who knows the keeper's lists.</summary>
    /// <param name="entry">The entry.</param>
    /// <param name="eggs">Numbers of the clutch's eggs.</param>
    /// <param name="laid">First instant of the lay date, its slack taken off.</param>
    /// <param name="now">Now; a phone's clock may be 5 minutes ahead.</param>
    public static IEnumerable<Remark> Check(CandlingEntry entry, IReadOnlyCollection<int> eggs, Instant laid, Instant now)
    {
        ArgumentNullException.ThrowIfNull(entry);
        ArgumentNullException.ThrowIfNull(eggs);
        if (!eggs.Contains(entry.Egg))
        {
            yield return Remark.Refused("egg", $"There is no egg {entry.Egg} in this clutch: add it to the plan first, or check the number.");
        }

        if (entry.At > now + Duration.FromMinutes(5))
        {
            yield return Remark.Said("at", "The time of this look is still to come: check the clock of the phone. The entry is kept.");
        }
        else if (entry.At < laid)
        {
            yield return Remark.Said("at", "The time of this look is before the eggs were laid: check the clock of the phone. The entry is kept.");
        }

        if (entry.MassGrams is { } mass)
        {
            if (!(mass is > 0 and <= 2_000))
            {
                yield return Remark.Refused("massGrams", "An egg's mass is more than 0 and at most 2,000 g, or left out.");
            }
            else if (mass is < 2 or > 500)
            {
                yield return Remark.Said("massGrams", string.Create(CultureInfo.InvariantCulture,
                    $"{mass:0.##} g is an unusual mass for a snake's egg: was the scale set to zero, and to grams?"));
            }
        }

        if (entry.Findings.Length > Limits.ShellFindings || entry.Findings.Distinct().Count() != entry.Findings.Length)
        {
            yield return Remark.Refused("shell", $"At most {Limits.ShellFindings} shell findings, each once.");
        }

        if (entry.Note.Length > Limits.NoteLength)
        {
            yield return Remark.Refused("note", $"A note has at most {Limits.NoteLength} characters.");
        }

        if (entry is { Tint: null, Veins: null, MovementSeen: null, LooksLikeSlug: null, MassGrams: null, Note.Length: 0 }
            && entry.Findings.IsEmpty)
        {
            yield return Remark.Refused("egg", "Nothing is entered: choose at least one thing that was seen, or write a note.");
        }
    }

    /// <summary>When to look next, by day; common practice, no source: the lay day, day 7 to 10, day 21 to 30, then every two weeks.</summary>
    /// <param name="day">Day number now.</param>
    /// <param name="lastLookDay">Day number of the last look at any egg, or null.</param>
    /// <returns>First and last day of the span to look in; the first is not before today, and both are today when it is overdue.</returns>
    public static (int From, int To) NextLook(int day, int? lastLookDay)
    {
        (int From, int To)[] spans = [(0, 1), (7, 10), (21, 30)];
        foreach ((int from, int to) in spans)
        {
            if (lastLookDay is null || lastLookDay < from)
            {
                return (Math.Max(day, from), Math.Max(day, to));
            }
        }

        int next = lastLookDay!.Value + 14;
        return next <= day ? (day, day) : (next, next + 2);
    }
}
