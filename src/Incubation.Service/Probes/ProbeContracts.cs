using NodaTime;

namespace Incubation.Service.Probes;

/// <summary>What a keeper calls a probe; null or empty takes the name away.</summary>
internal sealed record ProbeRequest(string? Name);

/// <summary>Where a probe is put; from now when no time is given.</summary>
internal sealed record PlacementRequest(string? Incubator, string? Where, string? From);

/// <summary>A probe, where it is, and the newest of each of its series.</summary>
internal sealed record ProbeView(
    string Key, string? Name, string? Incubator, string? IncubatorName, string? Where, Instant? PlacedSince, Instant FirstHeardAt,
    IReadOnlyList<SeriesView> Series, double? ClockOffSeconds, int SilentAfterSeconds, bool? Online);

/// <summary>The newest reading of a series: good, faulty, silent or unknown.</summary>
internal sealed record SeriesView(
    string Quantity, string Unit, double? Value, Instant? At, Instant? ArrivedAt, string Quality, IReadOnlyList<string> Marks,
    bool Saturated);

/// <summary>All probes ever heard.</summary>
internal sealed record ProbeLists(IReadOnlyList<ProbeView> Placed, IReadOnlyList<ProbeView> NotPlaced);
