using NodaTime;

namespace Incubation.Storage.Records;

/// <summary>One female's eggs of one laying.</summary>
public sealed class ClutchRecord
{
    public Guid Id { get; set; }
    /// <summary>Short name in addresses, made from the label; never changes.</summary>
    public required string Key { get; set; }
    /// <summary>What the keeper calls it: "C-07".</summary>
    public required string Label { get; set; }
    /// <summary>Key of the species profile.</summary>
    public required string Species { get; set; }
    public required string Dam { get; set; }
    /// <summary>Null: no sire is known, or there was none.</summary>
    public string? Sire { get; set; }
    public LocalDate LayDate { get; set; }
    /// <summary>How many days the lay date may be off, either way; 0 is "sure".</summary>
    public int LayDateSlackDays { get; set; }
    public Instant? FoundAt { get; set; }
    public double? FemaleCelsius { get; set; }
    /// <summary>Temperature assumed for the days before the first reading, °C; null takes the band's middle, and says so.</summary>
    public double? AssumedCelsius { get; set; }
    /// <summary>Second person at the pulling of the eggs from a large constrictor.</summary>
    public string? SecondPerson { get; set; }
    public string? Note { get; set; }
    public required string By { get; set; }
    public Instant EnteredAt { get; set; }
    /// <summary>Set when the keeper calls it finished.</summary>
    public Instant? FinishedAt { get; set; }
}

/// <summary>One egg, by the plain number pencilled on its shell.</summary>
public sealed class EggRecord
{
    public Guid Id { get; set; }
    public Guid Clutch { get; set; }
    public int Number { get; set; }
    /// <summary>Where it lies in the tub, 0..1 from the left and from the top.</summary>
    public double X { get; set; }
    public double Y { get; set; }
    /// <summary>Eggs of one clump are stuck together and share this number; null lies free.</summary>
    public int? Clump { get; set; }
    public required string By { get; set; }
    public Instant EnteredAt { get; set; }
}

/// <summary>A box with substrate that eggs lie in.</summary>
public sealed class TubRecord
{
    public required string Key { get; set; }
    public required string Name { get; set; }
    public required string Substrate { get; set; }
    public double? SubstrateGrams { get; set; }
    public double? WaterGrams { get; set; }
    public required string By { get; set; }
    public Instant EnteredAt { get; set; }
}

/// <summary>Which tub a clutch lies in, since when. Append-only but for its end.</summary>
public sealed class ClutchPlacementRecord
{
    public Guid Id { get; set; }
    public Guid Clutch { get; set; }
    public required string Tub { get; set; }
    public Instant From { get; set; }
    public Instant? Until { get; set; }
    public required string By { get; set; }
    public Instant EnteredAt { get; set; }
}

/// <summary>Which incubator a tub stands in, since when. Append-only but for its end.</summary>
public sealed class TubPlacementRecord
{
    public Guid Id { get; set; }
    public required string Tub { get; set; }
    public required string Incubator { get; set; }
    public string? Shelf { get; set; }
    public Instant From { get; set; }
    public Instant? Until { get; set; }
    public required string By { get; set; }
    public Instant EnteredAt { get; set; }
}

/// <summary>What one egg showed under the lamp. Evidence: append-only, a correction supersedes.</summary>
public sealed class CandlingRecord
{
    /// <summary>Made by the phone, so that sending twice changes nothing.</summary>
    public Guid Id { get; set; }
    public Guid Egg { get; set; }
    /// <summary>Key of a tint term, or null when not noted; the word is kept beside it as it was then.</summary>
    public string? Tint { get; set; }
    public string? TintWord { get; set; }
    public string? Veins { get; set; }
    public bool? MovementSeen { get; set; }
    /// <summary>Shell findings, comma-separated keys.</summary>
    public string? Shell { get; set; }
    /// <summary>"yes", "unsure", "no" or null.</summary>
    public string? LooksLikeSlug { get; set; }
    public double? MassGrams { get; set; }
    public string? Note { get; set; }
    public Guid? Supersedes { get; set; }
    public Instant At { get; set; }
    public required string By { get; set; }
    public Instant EnteredAt { get; set; }
}

/// <summary>What became of one egg. Evidence: append-only, a correction supersedes.</summary>
public sealed class OutcomeRecord
{
    public Guid Id { get; set; }
    public Guid Egg { get; set; }
    /// <summary>"first pip", "out", "dead in egg" or "slug".</summary>
    public required string Kind { get; set; }
    public Instant At { get; set; }
    /// <summary>Trait key and whether it was seen on the hatchling: "one copy", "two copies", "none", "carries" (copies unknown), or null when not judged.</summary>
    public string? Trait { get; set; }
    public string? TraitSeen { get; set; }
    public string? Note { get; set; }
    public Guid? Supersedes { get; set; }
    public required string By { get; set; }
    public Instant EnteredAt { get; set; }
}

/// <summary>What a person did to a tub or an incubator.</summary>
public sealed class CareRecord
{
    public Guid Id { get; set; }
    /// <summary>"tub" or "incubator".</summary>
    public required string On { get; set; }
    public required string Key { get; set; }
    /// <summary>"lid", "water", "fan", "move", "turn", "cleaning" or "other".</summary>
    public required string Kind { get; set; }
    public double? WaterGrams { get; set; }
    public string? Note { get; set; }
    public Instant At { get; set; }
    public required string By { get; set; }
    public Instant EnteredAt { get; set; }
}

/// <summary>A pattern trait that the keeper follows.</summary>
public sealed class TraitRecord
{
    public required string Key { get; set; }
    public required string Name { get; set; }
    /// <summary>"recessive", "dominant" or "incomplete dominant".</summary>
    public required string Inheritance { get; set; }
    /// <summary>Tint terms that are said to go with carrying it, comma-separated keys; empty for no marker.</summary>
    public required string CarrierTints { get; set; }
    public required string By { get; set; }
    public Instant EnteredAt { get; set; }
}

/// <summary>Copies of a trait that dam and sire have. Append-only: the newest of a clutch and trait holds.</summary>
public sealed class PairingRecord
{
    public Guid Id { get; set; }
    public Guid Clutch { get; set; }
    public required string Trait { get; set; }
    public int DamCopies { get; set; }
    /// <summary>Null: no sire, or unknown.</summary>
    public int? SireCopies { get; set; }
    public required string By { get; set; }
    public Instant EnteredAt { get; set; }
}

/// <summary>A word of the keeper's for the colour an egg glows.</summary>
public sealed class TintTermRecord
{
    public required string Key { get; set; }
    public required string Word { get; set; }
    public required string Meaning { get; set; }
    /// <summary>Colour it is drawn in, #rrggbb.</summary>
    public required string Colour { get; set; }
    public int Position { get; set; }
}
