using NodaTime;

namespace Incubation.Storage.Records;

/// <summary>A cabinet, box or room that is kept in a band.</summary>
public sealed class IncubatorRecord
{
    /// <summary>Short name in topics and addresses: a–z, 0–9, hyphen; never changes.</summary>
    public required string Key { get; set; }
    public required string Name { get; set; }
    /// <summary>Place on the floor of the room as it stands, from the left; 0 first.</summary>
    public int Position { get; set; }
    public Instant CreatedAt { get; set; }
    /// <summary>Set when it is taken out of use; its history stays.</summary>
    public Instant? RetiredAt { get; set; }
}

/// <summary>A probe that has been heard at least once.</summary>
public sealed class ProbeRecord
{
    /// <summary>Its name in topics; unique in the facility.</summary>
    public required string Key { get; set; }
    public string? Name { get; set; }
    public Instant FirstHeardAt { get; set; }
}

/// <summary>Where a probe is, since when. Append-only: a move ends one and begins the next.</summary>
public sealed class PlacementRecord
{
    public Guid Id { get; set; }
    public required string Probe { get; set; }
    public required string Incubator { get; set; }
    /// <summary>Where in it, in the keeper's words: "air, upper shelf", "tub 2, between eggs".</summary>
    public required string Where { get; set; }
    /// <summary>The tub it lies in, or null in the air or unknown.</summary>
    public string? Tub { get; set; }
    public Instant From { get; set; }
    public Instant? Until { get; set; }
    public required string By { get; set; }
    public Instant EnteredAt { get; set; }
}

/// <summary>A band as it was set at a time. Append-only: the newest of an incubator and quantity holds.</summary>
public sealed class BandRecord
{
    public Guid Id { get; set; }
    public required string Incubator { get; set; }
    public required string Quantity { get; set; }
    public double? DangerLow { get; set; }
    public double? WarningLow { get; set; }
    public double? WarningHigh { get; set; }
    public double? DangerHigh { get; set; }
    public double Deadband { get; set; }
    public int WarningOnDelaySeconds { get; set; }
    public int DangerOnDelaySeconds { get; set; }
    public int OffDelaySeconds { get; set; }
    public int SilentAfterSeconds { get; set; }
    public Instant From { get; set; }
    public required string By { get; set; }
}

/// <summary>A message that could not be read, counted by topic and reason. Bounded (Limits.RejectedMessages).</summary>
public sealed class RejectedMessageRecord
{
    public long Id { get; set; }
    public required string Topic { get; set; }
    public required string Reason { get; set; }
    /// <summary>Start of the payload as printable text; other bytes as \xNN.</summary>
    public required string PayloadStart { get; set; }
    public long Count { get; set; }
    public Instant FirstAt { get; set; }
    public Instant LastAt { get; set; }
}

/// <summary>One setting that a keeper changes in the dashboards.</summary>
public sealed class SettingRecord
{
    public required string Key { get; set; }
    public required string Value { get; set; }
    public Instant ChangedAt { get; set; }
    public required string By { get; set; }
}

/// <summary>Someone who may sign in.</summary>
public sealed class PersonRecord
{
    public Guid Id { get; set; }
    public required string Name { get; set; }
    /// <summary>"owner", "keeper", "viewer" or "sitter": a keeper until a date.</summary>
    public required string Role { get; set; }
    public required string PasswordHash { get; set; }
    /// <summary>Changes when every session of this person must end.</summary>
    public required string SecurityStamp { get; set; }
    public Instant CreatedAt { get; set; }
    /// <summary>When a sitter's time ends, or null.</summary>
    public Instant? SitsUntil { get; set; }
    /// <summary>When this person left; the name stays in the journals.</summary>
    public Instant? LeftAt { get; set; }
}
