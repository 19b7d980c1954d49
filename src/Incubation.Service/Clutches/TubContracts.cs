using System.Text.Json.Serialization;
using NodaTime;

namespace Incubation.Service.Clutches;

/// <summary>A tub as a keeper enters it.</summary>
internal sealed record TubRequest(
    string? Name, string? Substrate, double? SubstrateGrams, double? WaterGrams, string? Incubator, string? Shelf, string? From);

/// <summary>Where a tub is put; from now when no time is given.</summary>
internal sealed record TubPlacementRequest(string? Incubator, string? Shelf, string? From);

/// <summary>A tub, where it stands, and what lies in it.</summary>
/// <param name="Key">Its key.</param>
/// <param name="Name">What is written on it.</param>
/// <param name="Substrate">What eggs lie on; empty for none.</param>
/// <param name="SubstrateGrams">Dry mass, g, or null.</param>
/// <param name="WaterGrams">Mass of water, g, or null.</param>
/// <param name="WaterToSubstrate">Grams of water to one of substrate, or null.</param>
/// <param name="Incubator">Key of the incubator, or null.</param>
/// <param name="IncubatorName">Its name.</param>
/// <param name="Shelf">Where in it, or null.</param>
/// <param name="Since">Since when, or null.</param>
/// <param name="Clutches">Labels of the clutches that lie in it now.</param>
internal sealed record TubView(
    string Key, string Name, string Substrate, double? SubstrateGrams, double? WaterGrams, double? WaterToSubstrate,
    string? Incubator, string? IncubatorName, string? Shelf, Instant? Since, IReadOnlyList<string> Clutches)
{
    /// <summary>What was said of the entry that this answers.</summary>
    [JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)]
    public IReadOnlyList<string>? Said { get; init; }
}

/// <summary>A species that clutches can be of.</summary>
internal sealed record SpeciesView(
    string Key, string Name, string Words, bool LargeConstrictor, IReadOnlyDictionary<string, SpeciesBandView> Band, ProfileView? Profile,
    IReadOnlyList<string> Cautions);

/// <summary>Default limits of a quantity, °C or %RH.</summary>
internal sealed record SpeciesBandView(double? DangerLow, double? WarningLow, double? WarningHigh, double? DangerHigh);

/// <param name="T0">Developmental zero, °C.</param>
/// <param name="T0Sd">Its standard deviation, °C.</param>
/// <param name="K">Thermal constant, °C·d.</param>
/// <param name="Source">Where it comes from.</param>
/// <param name="Evidence">"published" or "common practice".</param>
internal sealed record ProfileView(double T0, double T0Sd, double K, string Source, string Evidence);
