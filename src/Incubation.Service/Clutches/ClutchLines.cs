using Incubation.Core.Candling;
using Incubation.Core.Clutches;
using Incubation.Core.Tint;
using NodaTime;

namespace Incubation.Service.Clutches;

/// <summary>Clutches on one line each.</summary>
internal sealed class ClutchLines(
    ClutchBook book, ClutchWhereabouts places, ClutchForecasts forecasts, ITintWords tints, ClutchCalendar calendar)
{
    public const string Incubating = "incubating", Finished = "finished", All = "all";
    private const string Hatching = "hatching";

    /// <summary>Lines of the clutches in a state, the oldest laying first; "incubating" takes in the hatching ones.</summary>
    public async Task<IReadOnlyList<ClutchLine>> ListAsync(string state, CancellationToken cancellationToken)
    {
        var lines = new List<ClutchLine>();
        foreach (BookedClutch clutch in book.Current.Clutches.Values
            .Where(c => state == All || (state == Finished) == (c.FinishedAt is not null))
            .OrderBy(c => c.Clutch.Laid.Date).ThenBy(c => c.Clutch.Label, StringComparer.Ordinal))
        {
            lines.Add(await OfAsync(clutch, cancellationToken));
        }

        return lines;
    }

    public async ValueTask<ClutchLine> OfAsync(BookedClutch clutch, CancellationToken cancellationToken)
    {
        Instant now = calendar.Now;
        Whereabouts where = places.At(clutch, now);
        LineForecast? forecast = await forecasts.LineAsync(clutch, cancellationToken);
        Clutch entered = clutch.Clutch;
        EggCounts counts = clutch.Counts;
        Dictionary<string, TintTerm> terms = tints.Terms.ToDictionary(t => t.Key, StringComparer.Ordinal);
        return new ClutchLine(
            clutch.Key, entered.Label, entered.Species, clutch.Species?.Name ?? entered.Species, entered.Dam, entered.Sire,
            entered.Laid.Date, calendar.Day(clutch, now),
            new EggCountsView(counts.Laid, counts.Alive, counts.Doubtful, counts.Slug, counts.Dead, counts.Hatched, counts.NotLookedAt),
            forecast?.Stage, forecast?.Pip, where.Incubator, places.IncubatorName(where.Incubator), where.Tub,
            where.Nearness != ProbeNearness.None, State(clutch), [.. clutch.Eggs.Select(egg => Little(egg, terms))]);
    }

    private static string State(BookedClutch clutch)
        => clutch.FinishedAt is not null ? Finished : clutch.Hatching ? Hatching : Incubating;

    private static LittleEgg Little(BookedEgg egg, Dictionary<string, TintTerm> terms)
    {
        string? tint = egg.LastTinted()?.Tint;
        return new LittleEgg(
            egg.Place.Number, egg.Place.X, egg.Place.Y, egg.Place.Clump, tint,
            tint is null ? null : terms.GetValueOrDefault(tint)?.Colour, CandlingWords.Word(egg.Status.Status));
    }
}
