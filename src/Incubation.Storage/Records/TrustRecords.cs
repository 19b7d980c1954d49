using NodaTime;

namespace Incubation.Storage.Records;

/// <summary>A way in for one more person, good once. Whoever holds the token may choose a name and password.</summary>
public sealed class InviteRecord
{
    public Guid Id { get; set; }
    /// <summary>SHA-256 of the token, hex; the token itself is shown once and kept nowhere.</summary>
    public required string TokenHash { get; set; }
    /// <summary>What the new person will be: "keeper", "viewer", "sitter" or "owner".</summary>
    public required string Role { get; set; }
    /// <summary>Whom it is meant for, in the inviter's words.</summary>
    public required string MeantFor { get; set; }
    /// <summary>When a sitter's time ends, or null.</summary>
    public Instant? SitsUntil { get; set; }
    public Instant ExpiresAt { get; set; }
    public required string By { get; set; }
    public Instant CreatedAt { get; set; }
    public Instant? UsedAt { get; set; }
    /// <summary>The person it became.</summary>
    public Guid? UsedBy { get; set; }
    public Instant? RevokedAt { get; set; }
}

/// <summary>One browser or phone that somebody is signed in on.</summary>
public sealed class SessionRecord
{
    public Guid Id { get; set; }
    public Guid Person { get; set; }
    /// <summary>SHA-256 of the secret in the cookie, hex.</summary>
    public required string SecretHash { get; set; }
    /// <summary>What the device called itself, shortened, so that its owner recognises it.</summary>
    public required string Device { get; set; }
    /// <summary>"password", "passkey", "invite" or "claim".</summary>
    public required string Method { get; set; }
    public Instant CreatedAt { get; set; }
    /// <summary>Last use, to the hour: writing on every request would wear the disk.</summary>
    public Instant LastSeenAt { get; set; }
    public Instant? EndedAt { get; set; }
}

/// <summary>A passkey (W3C Web Authentication), which works only under the host name it was made for.</summary>
public sealed class PasskeyRecord
{
    /// <summary>Credential id, base64url.</summary>
    public required string Id { get; set; }
    public Guid Person { get; set; }
    public required byte[] PublicKey { get; set; }
    public long SignCount { get; set; }
    public required string Host { get; set; }
    public required string Name { get; set; }
    public Instant CreatedAt { get; set; }
    public Instant? LastUsedAt { get; set; }
}

/// <summary>A token for a program that reads or writes by HTTP.</summary>
public sealed class ApiTokenRecord
{
    public Guid Id { get; set; }
    public Guid Person { get; set; }
    public required string Name { get; set; }
    /// <summary>"look" or "keep": what a viewer or a keeper may do.</summary>
    public required string Scope { get; set; }
    /// <summary>SHA-256 of the token, hex.</summary>
    public required string TokenHash { get; set; }
    /// <summary>First characters of the token, so that a list can be matched with what stands in a program's settings.</summary>
    public required string Start { get; set; }
    public Instant CreatedAt { get; set; }
    public Instant ExpiresAt { get; set; }
    public Instant? RevokedAt { get; set; }
    /// <summary>Last use, to the hour.</summary>
    public Instant? LastUsedAt { get; set; }
}

/// <summary>The name and secret a probe gives to the built-in broker. The newest that is not revoked holds.</summary>
public sealed class ProbeCredentialRecord
{
    public Guid Id { get; set; }
    /// <summary>The probe's name in topics, which is also its user name; it may publish that probe's topics only.</summary>
    public required string Probe { get; set; }
    /// <summary>Hash of the secret, with what is needed to check it.</summary>
    public required string SecretHash { get; set; }
    public required string By { get; set; }
    public Instant CreatedAt { get; set; }
    public Instant? RevokedAt { get; set; }
}

/// <summary>One thing that somebody changed. Append-only.</summary>
public sealed class ChangeRecord
{
    public long Id { get; set; }
    public Instant At { get; set; }
    /// <summary>Name of the person, or "console".</summary>
    public required string By { get; set; }
    /// <summary>The token or device it came by, or null.</summary>
    public string? Through { get; set; }
    /// <summary>Name of the operation in the API's description, or of the console command.</summary>
    public required string What { get; set; }
    /// <summary>What it was done to: the address without its query.</summary>
    public required string Subject { get; set; }
}

/// <summary>One backup, or one try at it.</summary>
public sealed class BackupRecord
{
    public Guid Id { get; set; }
    /// <summary>"nightly", "by hand", "before update" or "second copy".</summary>
    public required string Kind { get; set; }
    public Instant StartedAt { get; set; }
    public Instant? EndedAt { get; set; }
    /// <summary>Where it lies, without secrets.</summary>
    public required string Place { get; set; }
    public long Bytes { get; set; }
    /// <summary>Null while running.</summary>
    public bool? Ok { get; set; }
    /// <summary>What was done or what went wrong, in a sentence.</summary>
    public required string Words { get; set; }
}
