using Incubation.Core.Candling;
using Incubation.Core.Clutches;
using Incubation.Core.Development;
using Incubation.Core.Tint;
using NodaTime;

namespace Incubation.Service.Clutches;

/// <summary>Puts a clutch's page together.</summary>
internal sealed class ClutchPages(
    ClutchLines lines, ClutchWhereabouts places, ClutchForecasts forecasts, ClutchTasks tasks, ITintWords tints, TubPhotos photos,
    ClutchCalendar calendar)
{
    public async Task<ClutchPage> OfAsync(BookedClutch clutch, TemperatureScale scale, CancellationToken cancellationToken)
    {
        Instant now = calendar.Now;
        ClutchLine line = await lines.OfAsync(clutch, cancellationToken);
        PageForecast forecast = await forecasts.PageAsync(clutch, scale, cancellationToken);
        IReadOnlyList<PairingView> pairings = await forecasts.PairingsAsync(clutch, cancellationToken);
        Clutch entered = clutch.Clutch;
        return new ClutchPage(
            line, clutch.Note, entered.SecondPerson, entered.Laid.SlackDays, entered.FoundAt, entered.FemaleCelsius,
            entered.AssumedCelsius, clutch.FinishedAt, photos.TakenAt(clutch.Id), ClutchSentences.State(clutch, line.Day),
            ClutchSentences.Next(clutch, line, tasks, calendar), Eggs(clutch), places.Path(clutch, now), forecast.Forecast,
            forecast.Words, pairings, clutch.Species is { } species ? PullingEggs.Cautions(species) : [], Standing(clutch));
    }

    /// <summary>One egg as the page shows it.</summary>
    public EggView Egg(BookedEgg egg) => Of(egg, tints.Terms.ToDictionary(t => t.Key, StringComparer.Ordinal));

    private IReadOnlyList<EggView> Eggs(BookedClutch clutch)
    {
        Dictionary<string, TintTerm> terms = tints.Terms.ToDictionary(t => t.Key, StringComparer.Ordinal);
        return [.. clutch.Eggs.Select(egg => Of(egg, terms))];
    }

    private static EggView Of(BookedEgg egg, Dictionary<string, TintTerm> terms)
    {
        CandlingEntry[] standing = [.. egg.Standing];
        string? tint = egg.LastTinted()?.Tint;
        TintTerm? term = tint is null ? null : terms.GetValueOrDefault(tint);
        Veins? veins = standing.LastOrDefault(e => e.Veins is not null)?.Veins;
        SlugLook? slug = standing.LastOrDefault(e => e.LooksLikeSlug is not null)?.LooksLikeSlug;
        return new EggView(
            egg.Place.Number, egg.Place.X, egg.Place.Y, egg.Place.Clump, CandlingWords.Word(egg.Status.Status), egg.Status.Rule.Words,
            egg.Status.RestsOn, tint, term?.Word ?? tint, term?.Colour, veins is { } v ? CandlingWords.Word(v) : null,
            slug is { } s ? CandlingWords.Word(s) : null, standing.LastOrDefault(e => e.MassGrams is not null)?.MassGrams,
            standing.Length > 0 ? standing[^1].At : null, egg.Looks.Length,
            egg.Outcome is { } outcome ? new EggOutcomeView(OutcomeWords.Word(outcome.Outcome.Kind), outcome.Outcome.At) : null);
    }

    // What is true of the clutch as it stands, and not only of one entry.
    private List<string> Standing(BookedClutch clutch)
    {
        var said = new List<string>();
        if (clutch.FinishedAt is null && places.At(clutch, calendar.Now) is { Tub: { } tub })
        {
            said.AddRange(ClutchRules.CheckPlace(
                [.. places.In(tub).Where(c => c.Id != clutch.Id).Select(c => c.Clutch.Label)], places.TubName(tub)).Select(r => r.Words));
        }

        if (tasks.Watch(clutch) is { } unwatched)
        {
            said.Add(unwatched.What);
        }

        return said;
    }
}
