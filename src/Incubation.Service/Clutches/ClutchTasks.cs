using System.Globalization;
using Incubation.Core.Candling;
using Incubation.Core.Clutches;
using Incubation.Service.FirstScreen;
using NodaTime;

namespace Incubation.Service.Clutches;

/// <summary>What is to be done for a clutch: look at its eggs, expect its pip, put it where something watches it.</summary>
internal sealed class ClutchTasks(ClutchWhereabouts places, ClutchCalendar calendar)
{
    // A keeper wants to be there, and to have a day to make ready (our own choice).
    private static readonly Duration BeforePip = Duration.FromDays(2);

    /// <summary>Says where nothing watches the clutch, or null.</summary>
    public ToDoView? Watch(BookedClutch clutch)
    {
        if (clutch.FinishedAt is not null)
        {
            return null;
        }

        Whereabouts where = places.At(clutch, calendar.Now);
        if (where.Nearness != ProbeNearness.None)
        {
            return null;
        }

        string label = clutch.Clutch.Label, page = $"/clutches/{clutch.Key}";
        return where switch
        {
            { Tub: null } => new ToDoView(ToDoView.Now, $"Nothing watches {label}: say which tub it lies in.", page),
            { Incubator: null } => new ToDoView(
                ToDoView.Now, $"Nothing watches {label}: say which incubator {places.TubName(where.Tub)} stands in.", page),
            _ => new ToDoView(
                ToDoView.Now, $"Nothing watches {label}: no probe is placed in {places.IncubatorName(where.Incubator)} that speaks for it.", "/probes"),
        };
    }

    /// <summary>Says that it is time to candle, or null.</summary>
    public ToDoView? Candle(BookedClutch clutch)
    {
        if (!WantsLooks(clutch))
        {
            return null;
        }

        int day = Today(clutch);
        (int from, int to) = CandlingRules.NextLook(day, LastLookDay(clutch));
        if (from > day)
        {
            return null;
        }

        string until = to > day
            ? string.Create(CultureInfo.InvariantCulture, $" (day {day}; there is time until day {to})")
            : string.Create(CultureInfo.InvariantCulture, $" (day {day})");
        return new ToDoView(ToDoView.Today, $"Candle {clutch.Clutch.Label}{until}.", $"/clutches/{clutch.Key}");
    }

    /// <summary>When the next look is due, or null when none is to come.</summary>
    public Instant? NextLookAt(BookedClutch clutch)
        => NextLookDay(clutch) is { } day ? ClutchDay.Start(clutch.Clutch.Laid.Date, day, calendar.Zone) : null;

    /// <summary>The same in words.</summary>
    public string? NextLook(BookedClutch clutch) => NextLookDay(clutch) is { } day
        ? string.Create(CultureInfo.InvariantCulture,
            $"Candle next on day {day}, {calendar.SpokenDay(ClutchDay.Start(clutch.Clutch.Laid.Date, day, calendar.Zone))}.")
        : null;

    private int? NextLookDay(BookedClutch clutch)
        => WantsLooks(clutch) ? CandlingRules.NextLook(Today(clutch), LastLookDay(clutch)).From : null;

    /// <summary>Says that the pip is near or under way, or null.</summary>
    public ToDoView? Pip(BookedClutch clutch, ClutchLine line)
    {
        if (clutch.FinishedAt is not null)
        {
            return null;
        }

        string label = clutch.Clutch.Label, page = $"/clutches/{clutch.Key}";
        if (clutch.Hatching)
        {
            EggCounts counts = clutch.Counts;
            return counts.Alive + counts.Doubtful + counts.NotLookedAt > 0
                ? new ToDoView(ToDoView.Today, $"{label} is hatching: look for pips and enter what came out.", page)
                : new ToDoView(ToDoView.Today, $"Every egg of {label} has come to its end: call the clutch finished.", page);
        }

        if (line.Pip is not { } pip || pip.From > calendar.Now + BeforePip)
        {
            return null;
        }

        string when = pip.To < calendar.Now
            ? $"was expected by {calendar.SpokenDay(pip.To)}: look at the eggs"
            : $"is to be expected until {calendar.SpokenDay(pip.To)}, most likely on {calendar.SpokenDay(pip.Likely)}";
        return new ToDoView(ToDoView.Today, $"The pip of {label} {when}.", page);
    }

    // Once young come out there is no more to see through the shell, and of a clutch with no egg left nothing at all.
    private static bool WantsLooks(BookedClutch clutch)
    {
        EggCounts counts = clutch.Counts;
        return clutch.FinishedAt is null && !clutch.Hatching && counts.Alive + counts.Doubtful + counts.NotLookedAt > 0;
    }

    private int Today(BookedClutch clutch) => calendar.Day(clutch, calendar.Now);

    // Nobody looks later than they enter it: a phone whose clock is ahead must not hide that the eggs want looking at.
    private int? LastLookDay(BookedClutch clutch)
    {
        Instant? last = clutch.Candlings.Where(look => look.SupersededBy.IsEmpty)
            .Select(look => (Instant?)Instant.Min(look.Entry.At, look.Entry.EnteredAt)).Max();
        return last is { } at ? calendar.Day(clutch, at) : null;
    }
}
