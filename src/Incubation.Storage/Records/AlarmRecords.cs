using NodaTime;

namespace Incubation.Storage.Records;

/// <summary>The state of one alarm as last written, so that a restart goes on where it stood.</summary>
public sealed class AlarmStateRecord
{
    /// <summary>The alarm's key as text.</summary>
    public required string Key { get; set; }
    /// <summary>The pure machine's snapshot as JSON.</summary>
    public required string Snapshot { get; set; }
    public Instant ChangedAt { get; set; }
}

/// <summary>One step of an alarm: evidence, append-only.</summary>
public sealed class AlarmJournalRecord
{
    public long Id { get; set; }
    public Guid Occurrence { get; set; }
    public required string Incubator { get; set; }
    public required string Probe { get; set; }
    public required string Quantity { get; set; }
    public required string Condition { get; set; }
    public required string Severity { get; set; }
    /// <summary>What happened: raised, answered, returned, called, call failed, …</summary>
    public required string Event { get; set; }
    public required string FromState { get; set; }
    public required string ToState { get; set; }
    public Instant At { get; set; }
    public double? Value { get; set; }
    public double? Limit { get; set; }
    public string? By { get; set; }
    public required string Words { get; set; }
}

/// <summary>One step of the call-out order: who is told, how, and how long after the alarm.</summary>
public sealed class CallStepRecord
{
    public Guid Id { get; set; }
    public int Position { get; set; }
    public required string Who { get; set; }
    /// <summary>"mail" or "webhook".</summary>
    public required string Channel { get; set; }
    /// <summary>Mail address or https/http URL.</summary>
    public required string Address { get; set; }
    /// <summary>Standard Webhooks secret (whsec_…) of a webhook, else null.</summary>
    public string? Secret { get; set; }
    /// <summary>Seconds after the alarm was raised at which this step is told first.</summary>
    public int AfterSeconds { get; set; }
    /// <summary>Seconds between repeats until someone answers; 0 for none.</summary>
    public int RepeatSeconds { get; set; }
    public bool Enabled { get; set; }
}

/// <summary>One call in the outbox: kept until it is delivered or no longer needed, then as evidence.</summary>
public sealed class CallRecord
{
    /// <summary>Made from occurrence, step and round: sent again after a crash, it carries the same id.</summary>
    public required string Id { get; set; }
    public Guid Occurrence { get; set; }
    public Guid Step { get; set; }
    public int Round { get; set; }
    public required string Who { get; set; }
    public required string Channel { get; set; }
    public required string Address { get; set; }
    /// <summary>"waiting", "delivered", "failed" or "not needed".</summary>
    public required string Status { get; set; }
    public int Attempts { get; set; }
    public Instant CreatedAt { get; set; }
    public Instant? DeliveredAt { get; set; }
    public string? LastError { get; set; }
    /// <summary>What to say, as JSON.</summary>
    public required string Message { get; set; }
}

/// <summary>A link that lets one person answer one occurrence without signing in. Only its hash is kept.</summary>
public sealed class AnswerLinkRecord
{
    /// <summary>SHA-256 of the token, hex.</summary>
    public required string TokenHash { get; set; }
    public Guid Occurrence { get; set; }
    public required string Who { get; set; }
    public Instant CreatedAt { get; set; }
}
