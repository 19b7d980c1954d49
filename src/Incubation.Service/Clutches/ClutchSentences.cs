using System.Globalization;
using Incubation.Core.Candling;

namespace Incubation.Service.Clutches;

/// <summary>The first sentence of a clutch's page, and what comes next.</summary>
internal static class ClutchSentences
{
    /// <summary>"C-07, day 31: 6 of 7 eggs are alive, 1 is a slug."</summary>
    public static string State(BookedClutch clutch, int day)
    {
        EggCounts counts = clutch.Counts;
        List<string> parts = [];
        if (counts.Hatched > 0)
        {
            parts.Add(OfAll(counts.Hatched, counts.Laid, "hatched", "hatched"));
        }

        if (counts.Alive > 0)
        {
            parts.Add(parts.Count == 0 ? OfAll(counts.Alive, counts.Laid, "is alive", "are alive") : Some(counts.Alive, "is alive", "are alive"));
        }

        Add(parts, counts.Doubtful, "is doubtful", "are doubtful");
        Add(parts, counts.NotLookedAt, "has not been looked at", "have not been looked at");
        Add(parts, counts.Slug, "is a slug", "are slugs");
        Add(parts, counts.Dead, "is dead", "are dead");
        string when = clutch.FinishedAt is null
            ? string.Create(CultureInfo.InvariantCulture, $"day {day}")
            : string.Create(CultureInfo.InvariantCulture, $"finished on day {day}");
        string text = string.Join(", ", parts);
        if (counts.Laid > 0 && counts.NotLookedAt == counts.Laid)
        {
            text = counts.Laid == 1 ? "its one egg has not been looked at yet"
                : string.Create(CultureInfo.InvariantCulture, $"none of its {counts.Laid} eggs has been looked at yet");
        }

        return $"{clutch.Clutch.Label}, {when}: {text}.";
    }

    /// <summary>What to do or to wait for, or null for a finished clutch.</summary>
    public static string? Next(BookedClutch clutch, ClutchLine line, ClutchTasks tasks, ClutchCalendar calendar)
    {
        if (clutch.FinishedAt is not null)
        {
            return null;
        }

        if (tasks.Watch(clutch) is { } unwatched)
        {
            return unwatched.What;
        }

        if (tasks.Candle(clutch) is { } due)
        {
            return due.What;
        }

        // The look that comes first is said first; after the pip none is to come.
        string? look = line.Pip is { } window && tasks.NextLookAt(clutch) >= window.From ? null : tasks.NextLook(clutch);
        return line.Pip is not { } pip || clutch.Hatching ? look
            : look is null ? Pip(pip, calendar) : $"{look} {Pip(pip, calendar)}";
    }

    private static string Pip(PipWindow pip, ClutchCalendar calendar)
    {
        string from = calendar.SpokenDay(pip.From), to = calendar.SpokenDay(pip.To);
        return from == to ? $"The first pip is to be expected on {from}." : $"The first pip is to be expected between {from} and {to}.";
    }

    private static string OfAll(int n, int all, string one, string many) => n == all && all == 1
        ? $"its one egg {one}"
        : string.Create(CultureInfo.InvariantCulture, $"{n} of {all} eggs {(n == 1 ? one : many)}");

    private static string Some(int n, string one, string many)
        => string.Create(CultureInfo.InvariantCulture, $"{n} {(n == 1 ? one : many)}");

    private static void Add(List<string> parts, int n, string one, string many)
    {
        if (n > 0)
        {
            parts.Add(Some(n, one, many));
        }
    }
}
