using System.Collections.Frozen;
using System.Collections.Immutable;
using Incubation.Core.Alarms;
using Incubation.Core.Readings;
using NodaTime;

namespace Incubation.Service.Facility;

/// <summary>An incubator in use.</summary>
internal sealed record IncubatorPlace(string Key, string Name, int Position);

/// <summary>Where a probe is now, with the tub on record, if any.</summary>
internal sealed record PlacedProbe(string Probe, string Incubator, string Where, Instant From, string? Tub = null);

/// <summary>Incubators, placements and bands as they stand: immutable, so that readings are judged without a lock.</summary>
internal sealed record FacilitySnapshot(
    ImmutableArray<IncubatorPlace> Incubators,
    FrozenDictionary<string, PlacedProbe> Placements,
    FrozenDictionary<(string Incubator, Quantity Quantity), Band> Bands)
{
    public static FacilitySnapshot Empty { get; } = new(
        [], FrozenDictionary<string, PlacedProbe>.Empty, FrozenDictionary<(string, Quantity), Band>.Empty);
}

/// <summary>The facility as it stands. The snapshot is replaced after each change of the records.</summary>
internal interface IFacility
{
    FacilitySnapshot Current { get; }

    event Action<FacilitySnapshot>? Changed;
}
