namespace Incubation.Storage.Influx;

/// <summary>Where InfluxDB is and what of it is used. Written to by its v2 API, read from by InfluxQL, which 1.8, 2.x and 3.x all answer.</summary>
public sealed class InfluxSettings
{
    /// <summary>Address, such as <c>http://192.0.2.20:8086</c>.</summary>
    public required Uri Url { get; init; }

    /// <summary>Token that may write the bucket and read it; <c>user:password</c> for 1.8.</summary>
    public string? Token { get; init; }

    /// <summary>Organisation; 1.8 and 3.x want none.</summary>
    public string Org { get; init; } = "-";

    /// <summary>Bucket that is written; <c>database/retention-policy</c> for 1.8.</summary>
    public required string Bucket { get; init; }

    /// <summary>Database that InfluxQL reads: the bucket's, unless told otherwise.</summary>
    public string? Database { get; init; }

    /// <summary>Database and retention policy for InfluxQL.</summary>
    internal (string Database, string? Policy) Read
        => (Database ?? Bucket).Split('/', 2) is [var database, var policy] ? (database, policy) : (Database ?? Bucket, null);

    /// <summary>What tells one copy from another.</summary>
    public string Target => $"{Url} {Org} {Bucket}";
}
