using Incubation.Core.Readings;
using Microsoft.Data.Sqlite;

namespace Incubation.Storage.Readings;

/// <summary>
/// Something that is written in the same transaction as the readings: it stands on the disk with them or not at all. Made anew for each
/// write session, on its connection; called on the writer's thread only. What it remembers goes with the session when a commit fails.
/// </summary>
internal interface ICommitPart : IDisposable
{
    /// <summary>
    /// A reading that was stored, with the time it was stored under. Called again for one that stepped aside to another millisecond; never for
    /// one that was there already.
    /// </summary>
    void Add(long series, in SeriesKey key, in Reading stored);

    /// <summary>All readings of the transaction were added: writes what follows from them. The commit comes next.</summary>
    void Flush();
}

/// <summary>Makes a part for a write session.</summary>
internal delegate ICommitPart CommitPartMaker(SqliteConnection connection);
