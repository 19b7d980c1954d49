using Incubation.Service.Clutches;

namespace Incubation.Service.Genetics;

/// <summary>A trait the keeper follows, and how its tint marker has done across all clutches.</summary>
internal sealed record TraitView(string Key, string Name, string Inheritance, IReadOnlyList<string> CarrierTints, MarkerView? Marker);

/// <param name="Name">What the keeper calls it.</param>
/// <param name="Inheritance">"recessive", "dominant" or "incomplete dominant".</param>
/// <param name="CarrierTints">Keys of tints said to go with carrying it; empty for none.</param>
internal sealed record TraitRequest(string? Name, string? Inheritance, IReadOnlyList<string>? CarrierTints);

/// <summary>Copies that dam and sire have, 0 to 2; a sire's may be left out when not known or when there was none.</summary>
internal sealed record PairingRequest(int? DamCopies, int? SireCopies);
