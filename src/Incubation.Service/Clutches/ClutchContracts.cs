using System.Text.Json.Serialization;
using NodaTime;

namespace Incubation.Service.Clutches;

/// <summary>A clutch as a keeper enters it.</summary>
/// <param name="Label">What it is called; the next free "C-01" when left out.</param>
/// <param name="Species">Key of a species.</param>
/// <param name="Dam">The mother's name.</param>
/// <param name="Sire">The father's, or null.</param>
/// <param name="LayDate">Local date, YYYY-MM-DD.</param>
/// <param name="LayDateSlackDays">How many days it may be off, either way; 0 when left out.</param>
/// <param name="EggCount">Eggs laid, slugs included; numbered from 1.</param>
/// <param name="FoundAt">When the eggs were found, or null.</param>
/// <param name="FemaleCelsius">Temperature of the female, °C, or null.</param>
/// <param name="AssumedCelsius">Temperature believed in while nothing was recorded, °C, or null.</param>
/// <param name="SecondPerson">Who else was there when the eggs were pulled; a must with large constrictors.</param>
/// <param name="Note">Free text.</param>
/// <param name="Finished">True puts it on record after its season.</param>
/// <param name="Tub">The tub it lies in, or null.</param>
internal sealed record ClutchRequest(
    string? Label, string? Species, string? Dam, string? Sire, string? LayDate, int? LayDateSlackDays, int? EggCount, string? FoundAt,
    double? FemaleCelsius, double? AssumedCelsius, string? SecondPerson, string? Note, bool? Finished, ClutchTubRequest? Tub);

/// <summary>An existing tub by its key, or a new one.</summary>
/// <param name="Key">Key of a tub, or null for a new one.</param>
/// <param name="Name">What is written on a new one.</param>
/// <param name="Substrate">What the eggs lie on.</param>
/// <param name="SubstrateGrams">Dry mass, g.</param>
/// <param name="WaterGrams">Mass of water, g.</param>
/// <param name="Incubator">Incubator that it stands in.</param>
/// <param name="Shelf">Where in it.</param>
/// <param name="From">Since when the clutch lies in it; when left out since it was found, or now.</param>
internal sealed record ClutchTubRequest(
    string? Key, string? Name, string? Substrate, double? SubstrateGrams, double? WaterGrams, string? Incubator, string? Shelf, string? From);

/// <summary>What may be changed of a clutch. A member that is left out stays as it is; null takes it away.</summary>
internal sealed record ClutchEdit(
    string? Label, string? Species, string? Dam, string? Sire, string? LayDate, int? LayDateSlackDays, string? FoundAt,
    double? FemaleCelsius, double? AssumedCelsius, string? SecondPerson, string? Note);

/// <summary>Eggs counted by what is to be thought of them.</summary>
internal sealed record EggCountsView(int Laid, int Alive, int Doubtful, int Slug, int Dead, int Hatched, int NotLookedAt);

/// <summary>A little egg: enough to draw it.</summary>
internal sealed record LittleEgg(int Number, double X, double Y, int? Clump, string? Tint, string? Colour, string Status);

/// <summary>A clutch on one line.</summary>
internal sealed record ClutchLine(
    string Key, string Label, string Species, string SpeciesName, string Dam, string? Sire, LocalDate LayDate, int Day,
    EggCountsView Eggs, double? Stage, PipWindow? Pip, string? Incubator, string? IncubatorName, string? Tub, bool Watched,
    string State, IReadOnlyList<LittleEgg> Tints)
{
    /// <summary>What was said of the entry that this line answers; left out where it answers none.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<string>? Said { get; init; }

    /// <summary>Cautions for the pulling of its eggs, with the answer to its entry.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<string>? Cautions { get; init; }
}

/// <summary>One egg on the clutch's page.</summary>
internal sealed record EggView(
    int Number, double X, double Y, int? Clump, string Status, string StatusWords, IReadOnlyList<Guid> RestsOn, string? Tint,
    string? TintWord, string? Colour, string? Veins, string? LooksLikeSlug, double? MassGrams, Instant? LastAt, int Entries,
    EggOutcomeView? Outcome);

/// <summary>The outcome that holds.</summary>
internal sealed record EggOutcomeView(string Kind, Instant At);

/// <summary>Where a clutch was for a while.</summary>
internal sealed record ClutchPlacementView(
    string Tub, string TubName, string? Incubator, string? IncubatorName, string? Shelf, Instant From, Instant? Until);

/// <summary>A clutch's page.</summary>
internal sealed record ClutchPage(
    ClutchLine Clutch, string? Note, string? SecondPerson, int LayDateSlackDays, Instant? FoundAt, double? FemaleCelsius,
    double? AssumedCelsius, Instant? FinishedAt, Instant? PhotoAt, string Sentence, string? Next, IReadOnlyList<EggView> Eggs,
    IReadOnlyList<ClutchPlacementView> Placements, ForecastView? Forecast, string? ForecastWords, IReadOnlyList<PairingView> Pairings,
    IReadOnlyList<string> Cautions, IReadOnlyList<string> Said);

/// <summary>Where a clutch is put; from now when no time is given.</summary>
internal sealed record ClutchPlacementRequest(string? Tub, string? From);

/// <summary>The plan: the place of each egg that was moved.</summary>
internal sealed record PlanRequest(IReadOnlyList<PlanEgg?>? Eggs);

/// <param name="Number">Number on the egg.</param>
/// <param name="X">Share of the tub's width.</param>
/// <param name="Y">Share of its depth.</param>
/// <param name="Clump">Eggs stuck together share a number; null lies free.</param>
internal sealed record PlanEgg(int? Number, double? X, double? Y, int? Clump);

/// <summary>An egg that is added.</summary>
internal sealed record EggRequest(int? Number, double? X, double? Y, int? Clump);
