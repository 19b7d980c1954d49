using NodaTime;

namespace Incubation.Storage.Records;

/// <summary>One comparison of a probe with something known. Evidence: append-only, a correction supersedes.</summary>
public sealed class CalibrationRecord
{
    public Guid Id { get; set; }
    public required string Probe { get; set; }
    public required string Quantity { get; set; }
    /// <summary>Since when it holds, which may lie before it was entered.</summary>
    public Instant From { get; set; }
    /// <summary>
    /// "ice bath", "reference thermometer", "reference hygrometer", "saturated salt" with the salt and temperature of each point
    /// ("saturated salt|NaCl@25|MgCl2@25"), or "nothing", which takes the entry it supersedes away.
    /// </summary>
    public required string Method { get; set; }
    /// <summary>What the probe said at the first point, as measured, and what was true there, in the quantity's unit.</summary>
    public double Measured { get; set; }
    public double Truth { get; set; }
    /// <summary>The second point of a two-point calibration, or null.</summary>
    public double? Measured2 { get; set; }
    public double? Truth2 { get; set; }
    /// <summary>The day on which it should be done again, or null.</summary>
    public LocalDate? NextDue { get; set; }
    public string? Note { get; set; }
    public Guid? Supersedes { get; set; }
    public required string By { get; set; }
    public Instant EnteredAt { get; set; }
}

/// <summary>An incubator that is tried out before eggs go in.</summary>
public sealed class RunInRecord
{
    public Guid Id { get; set; }
    public required string Incubator { get; set; }
    public Instant From { get; set; }
    /// <summary>When it was ended before its time, or null.</summary>
    public Instant? EndedAt { get; set; }
    public required string By { get; set; }
    public Instant EnteredAt { get; set; }
}

/// <summary>When a person last looked at a probe's least and most.</summary>
public sealed class ProbeLookRecord
{
    public required string Person { get; set; }
    public required string Probe { get; set; }
    public Instant At { get; set; }
}

/// <summary>A file of readings that is being brought in, so that it can be stopped and gone on with.</summary>
public sealed class ImportRecord
{
    public Guid Id { get; set; }
    public required string FileName { get; set; }
    /// <summary>SHA-256 of the file, hex: going on with another file is refused.</summary>
    public required string Digest { get; set; }
    public long Bytes { get; set; }
    /// <summary>Bytes and lines that are stored for good.</summary>
    public long DoneBytes { get; set; }
    public long DoneLines { get; set; }
    public long Taken { get; set; }
    public long Refused { get; set; }
    /// <summary>"waiting", "running", "stopped", "done" or "failed".</summary>
    public required string State { get; set; }
    /// <summary>What was asked for, as JSON: which column is what.</summary>
    public required string Columns { get; set; }
    /// <summary>The first refused lines with their reasons, as JSON.</summary>
    public required string Report { get; set; }
    public required string By { get; set; }
    public Instant StartedAt { get; set; }
    public Instant? EndedAt { get; set; }
}
