namespace Incubation.Storage.Readings;

/// <summary>How hard a commit is pressed onto the disk.</summary>
internal enum Durability
{
    /// <summary>Nothing is synced: a power cut loses acknowledged readings. Only to show in a test that the other one doesn't.</summary>
    Off = 0,

    /// <summary>Each commit is synced before it is acknowledged (<c>synchronous=FULL</c>).</summary>
    Full = 2,
}

/// <summary>Where the readings are.</summary>
public sealed class SqliteReadingStoreOptions
{
    /// <summary>Path of the file, such as <c>data/readings.db</c>, in a folder that exists on a local disk.</summary>
    public required string Path { get; init; }

    /// <summary>For tests only; the service always takes the default.</summary>
    internal Durability Durability { get; init; } = Durability.Full;

    /// <summary>What else is written in the transaction of the readings, in this order.</summary>
    internal IReadOnlyList<CommitPartMaker> Parts { get; init; } = [];

    /// <summary>For tests only: no commit waits for company.</summary>
    internal bool CommitAtOnce { get; init; }
}
