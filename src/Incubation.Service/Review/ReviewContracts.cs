using NodaTime;

namespace Incubation.Service.Review;

/// <summary>What a clutch went through, as a page that prints.</summary>
internal sealed record ReviewView(
    ReviewedClutchView Clutch, ReviewedClutchView? Against, string Sentence, IReadOnlyList<StretchView> Stretches,
    IReadOnlyList<ReviewGapView> Gaps, OutcomeCountsView Outcomes, ExposureView Exposure, IReadOnlyList<ComparisonView> Comparison,
    IReadOnlyList<SpeakerView> Speakers, string Caveat);

/// <summary>A clutch under review, from laying to its last outcome or to now, and its own review in a few sentences.</summary>
internal sealed record ReviewedClutchView(
    string Key, string Label, string Species, string Dam, string? Sire, LocalDate LayDate, Instant From, Instant Until, bool Finished,
    string Sentence);

/// <summary>A stretch out of band, "above" or "below", with all that goes with it; stages are shares of the time from laying to pip.</summary>
internal sealed record StretchView(
    string Side, Instant From, Instant To, double Peak, Instant PeakAt, double DegreeHoursAbove, double DegreeHoursBelow, double? StageFrom,
    double? StageTo, IReadOnlyList<ProbeSaysView> Probes, IReadOnlyList<ReviewAlarmView> Alarms, IReadOnlyList<ReviewCareView> Care, string Words);

/// <summary>What a probe says of a stretch, in words: whether it was out of band too, and how far.</summary>
internal sealed record ProbeSaysView(string Probe, string Where, string Says);

internal sealed record ReviewAlarmView(
    Guid Occurrence, Instant RaisedAt, string Severity, string? AnsweredBy, Instant? AnsweredAt, string Words);

internal sealed record ReviewCareView(Guid Id, Instant At, string On, string Key, string Kind, double? WaterGrams, string? Note, string By, string Words);

internal sealed record ReviewGapView(Instant From, Instant To, double Hours, IReadOnlyList<ReviewAlarmView> Alarms, string Words);

internal sealed record OutcomeCountsView(
    int Laid, int Hatched, int Dead, int Slug, int Alive, int Doubtful, int NotLookedAt, Instant? FirstPip, Instant? LastOut);

/// <summary>Over everything that is known; degree-hours in °C·h.</summary>
internal sealed record ExposureView(
    double KnownHours, double HoursAbove, double DegreeHoursAbove, double HoursBelow, double DegreeHoursBelow, double? MeanCelsius);

internal sealed record ComparisonView(string What, double? This, double? Against, string Words);

/// <summary>Which probe spoke for the clutch, and when.</summary>
internal sealed record SpeakerView(string Probe, string Where, string Near, Instant From, Instant To);
