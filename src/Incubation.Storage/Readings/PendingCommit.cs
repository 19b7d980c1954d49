using Incubation.Core.Readings;

namespace Incubation.Storage.Readings;

/// <summary>
/// Readings on their way to the disk, and the task of whoever waits for them. Whatever follows runs off the writer's thread. Or a chore
/// instead of readings: a short piece of keeping that needs the writer, in a transaction of its own.
/// </summary>
internal sealed class PendingCommit(ReadOnlyMemory<Reading> readings, Action<WriteSession>? chore = null, ReadingSender? sender = null)
    : TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously)
{
    public ReadOnlyMemory<Reading> Readings => readings;

    public Action<WriteSession>? Chore => chore;

    /// <summary>Whose message it is; null when the caller itself waits.</summary>
    public ReadingSender? Sender => sender;

    /// <summary>When the writer took it over, milliseconds on its own clock.</summary>
    public long ArrivedAt { get; set; }
}
